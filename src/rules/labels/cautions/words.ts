import type { Language } from "../language.ts";

/** The short texts that may be printed; the sentence that points to local rules is "pointer". */
export type CautionText =
  | "magnet"
  | "small-parts"
  | "flame"
  | "microwave"
  | "unattended-sleep"
  | "pointer";

export const cautionWords: Record<Language, Record<CautionText, string>> = {
  "en-US": {
    magnet: "Contains a magnet. Keep away from children and from pacemakers or other implants.",
    "small-parts": "Not for children under 3: small parts.",
    flame: "Keep away from flame.",
    microwave: "Do not microwave.",
    "unattended-sleep": "Not for unattended sleep.",
    pointer: "Check local rules.",
  },
  "en-GB": {
    magnet: "Contains a magnet. Keep away from children and from pacemakers or other implants.",
    "small-parts": "Not for children under 3: small parts.",
    flame: "Keep away from flame.",
    microwave: "Do not microwave.",
    "unattended-sleep": "Not for unattended sleep.",
    pointer: "Check local rules.",
  },
  fr: {
    magnet:
      "Contient un aimant. Tenir loin des enfants, des stimulateurs cardiaques et autres implants.",
    "small-parts": "Pas pour les enfants de moins de 3 ans : petites pièces.",
    flame: "Tenir loin des flammes.",
    microwave: "Ne pas mettre au micro-ondes.",
    "unattended-sleep": "Pas pour le sommeil sans surveillance.",
    pointer: "Vérifiez les règles locales.",
  },
  es: {
    magnet: "Contiene un imán. Mantener lejos de los niños, de marcapasos y de otros implantes.",
    "small-parts": "No apto para menores de 3 años: piezas pequeñas.",
    flame: "Mantener lejos de las llamas.",
    microwave: "No usar en el microondas.",
    "unattended-sleep": "No apto para dormir sin vigilancia.",
    pointer: "Consulte las normas locales.",
  },
  de: {
    magnet:
      "Enthält einen Magneten. Von Kindern, Herzschrittmachern und anderen Implantaten fernhalten.",
    "small-parts": "Nicht für Kinder unter 3 Jahren: kleine Teile.",
    flame: "Von Flammen fernhalten.",
    microwave: "Nicht in die Mikrowelle.",
    "unattended-sleep": "Nicht für unbeaufsichtigten Schlaf.",
    pointer: "Örtliche Vorschriften beachten.",
  },
};
