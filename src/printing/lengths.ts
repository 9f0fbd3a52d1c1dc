/** One millimetre in points, the unit of a PDF page: 72 points are one inch, 25.4 mm. */
export const MILLIMETRE = 72 / 25.4;

export const toPoints = (millimetres: number): number => millimetres * MILLIMETRE;

/** The smallest letters that go on paper here, in points; smaller is hard to read in a hall. */
export const SMALLEST_TEXT = 6;
