/**
 * ISO 4217: alphabetic code, numeric code and digits after the decimal mark. Our own table,
 * because the display data inside browsers and Node gives other digits for some currencies
 * (HUF, COP, IQD and MGA among them) and would lose or invent coins.
 */
const rows = `
AED 784 2 | ALL 008 2 | AMD 051 2 | ARS 032 2 | AUD 036 2 | AZN 944 2 | BAM 977 2 | BBD 052 2
BDT 050 2 | BHD 048 3 | BMD 060 2 | BOB 068 2 | BRL 986 2 | BSD 044 2 | BWP 072 2 | BYN 933 2
BZD 084 2 | CAD 124 2 | CHF 756 2 | CLF 990 4 | CLP 152 0 | CNY 156 2 | COP 170 2 | CRC 188 2
CZK 203 2 | DKK 208 2 | DOP 214 2 | EGP 818 2 | ETB 230 2 | EUR 978 2 | FJD 242 2 | GBP 826 2
GEL 981 2 | GHS 936 2 | GTQ 320 2 | HKD 344 2 | HNL 340 2 | HUF 348 2 | IDR 360 2 | ILS 376 2
INR 356 2 | IQD 368 3 | ISK 352 0 | JMD 388 2 | JOD 400 3 | JPY 392 0 | KES 404 2 | KGS 417 2
KHR 116 2 | KRW 410 0 | KWD 414 3 | KYD 136 2 | KZT 398 2 | LAK 418 2 | LKR 144 2 | LYD 434 3
MAD 504 2 | MDL 498 2 | MGA 969 2 | MKD 807 2 | MNT 496 2 | MRU 929 2 | MUR 480 2 | MXN 484 2
MYR 458 2 | NAD 516 2 | NGN 566 2 | NIO 558 2 | NOK 578 2 | NPR 524 2 | NZD 554 2 | OMR 512 3
PAB 590 2 | PEN 604 2 | PGK 598 2 | PHP 608 2 | PKR 586 2 | PLN 985 2 | PYG 600 0 | QAR 634 2
RON 946 2 | RSD 941 2 | RWF 646 0 | SAR 682 2 | SEK 752 2 | SGD 702 2 | THB 764 2 | TND 788 3
TRY 949 2 | TTD 780 2 | TWD 901 2 | TZS 834 2 | UAH 980 2 | UGX 800 0 | USD 840 2 | UYU 858 2
UYW 927 4 | UZS 860 2 | VND 704 0 | XAF 950 0 | XCD 951 2 | XOF 952 0 | XPF 953 0 | ZAR 710 2
ZMW 967 2`;

export interface Currency {
  code: string;
  /** Three digits, as text because of leading zeros. */
  numeric: string;
  digits: number;
}

export const currencies: readonly Currency[] = rows
  .trim()
  .split(/\s*[|\n]\s*/)
  .map((row) => {
    const [code = "", numeric = "", digits] = row.split(" ");
    return { code, numeric, digits: Number(digits) };
  });
