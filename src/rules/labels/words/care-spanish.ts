import type { CareWords } from "../care/words.ts";

export const careSpanish: CareWords = {
  wash: {
    none: "No lavar.",
    "hand-30": "Lavar a mano, 30 °C.",
    "very-gentle-30": "Lavar a máquina a 30 °C, ciclo muy delicado.",
    "gentle-30": "Lavar a máquina a 30 °C, ciclo delicado.",
    "gentle-40": "Lavar a máquina a 40 °C, ciclo delicado.",
    "machine-40": "Lavar a máquina a 40 °C.",
    "machine-60": "Lavar a máquina a 60 °C.",
  },
  bleach: {
    none: "No usar blanqueador.",
    "non-chlorine": "Solo blanqueador de oxígeno.",
    any: "",
  },
  dry: {
    "flat-shade": "Secar en plano a la sombra.",
    flat: "Secar en plano.",
    line: "Secar tendido.",
    "tumble-low": "Secadora a baja temperatura.",
    "tumble-medium": "Secadora a temperatura media.",
  },
  iron: {
    none: "No planchar.",
    "1": "Plancha suave{how} si hace falta.",
    "2": "Plancha media{how} si hace falta.",
    "3": "Plancha caliente{how} si hace falta.",
  },
  how: {
    damp: " en húmedo",
    "reverse-side": " por el revés",
    "press-cloth": " con un paño",
  },
  washNotes: { "no-wringing": "No retorcer.", separately: "Lavar por separado." },
  professional: {
    none: { beside: "No limpiar en seco.", alone: "No lavar. No limpiar en seco." },
    "F-gentle": {
      beside: "O limpieza en seco delicada, solo con hidrocarburos.",
      alone: "Limpieza en seco delicada, solo con hidrocarburos.",
    },
    F: {
      beside: "O limpieza en seco, solo con hidrocarburos.",
      alone: "Limpieza en seco, solo con hidrocarburos.",
    },
    P: { beside: "O limpieza en seco.", alone: "Solo limpieza en seco." },
  },
  says: {
    "colour-runs":
      "Teñido a mano: puede desteñir. Lavar por separado en agua fría las primeras veces.",
    "skip-softener": "Para que absorba bien: sin suavizante ni toallitas para secadora.",
    "may-shrink": "Puede encoger en el primer lavado.",
    dust: "Quitar el polvo con cuidado.",
    "shake-out": "Sacudir a menudo.",
  },
};
