import type { LetterWords } from "../words.ts";

export const spanish: LetterWords = {
  greeting: "Hola, {member}:",
  why: {
    "entry-deadline":
      "Recibe este mensaje porque es miembro de {guild}; avisamos a todos los miembros antes de que termine el plazo de inscripción.",
    "check-in-time": "Recibe este mensaje porque eligió una hora para entregar sus piezas.",
    "first-sold": "Recibe este mensaje porque pidió saber cuándo se vende su primera pieza.",
    "statement-ready": "Recibe este mensaje porque tenía piezas en la venta.",
  },
  stop: "No recibir más mensajes de este tipo, con un solo toque:",
  choose: "Todos sus mensajes y su idioma:",
  deadline: {
    subject: "{sale}: el plazo de inscripción termina el {day}",
    text: [
      "El plazo de inscripción para {sale} termina el {day} a las {time}.",
      "{pieces}",
      "Para inscribir piezas o ver las que ya ha inscrito:\n{link}",
      "Si esta vez no participa, no tiene que hacer nada.",
    ],
  },
  pieces: {
    none: "Todavía no ha inscrito ninguna pieza.",
    one: "Ha inscrito 1 pieza.",
    many: "Ha inscrito {count} piezas.",
  },
  checkIn: {
    subject: "{sale}: entrega de sus piezas el {day}",
    text: [
      "Le esperamos en la mesa de entrega con sus piezas para {sale} el {day}, entre las {from} y las {until}.",
      "{where}",
      "Si esa hora ya no le viene bien, elija otra, para que alguien más pueda aprovecharla:\n{link}",
    ],
  },
  firstSold: {
    subject: "{sale}: se ha vendido su primera pieza",
    text: [
      "Su primera pieza en {sale} ya tiene comprador: {piece} (etiqueta {tag}).",
      "Este mensaje llega una sola vez por venta. Lo que se venda después está aquí:\n{link}",
    ],
  },
  statement: {
    subject: "{sale}: su liquidación está lista",
    text: [
      "Su liquidación {number} de {sale} está lista. Puede leerla e imprimirla aquí, después de iniciar sesión:\n{link}",
      "Si algo no le parece correcto, dígaselo a la tesorería.",
    ],
  },
  kinds: {
    "entry-deadline": "Avisos antes de que termine el plazo de inscripción",
    "check-in-time": "El día antes de su hora de entrega",
    "first-sold": "Su primera pieza vendida",
    "statement-ready": "Su liquidación está lista",
  },
  page: {
    title: "¿No recibir más estos mensajes?",
    ask: "Los mensajes: {kind}. Los demás mensajes no cambian.",
    button: "No enviarme más de estos",
    stopped: "Ya no recibirá estos mensajes",
    stoppedText: "Los mensajes: {kind}. Un mensaje que ya está en camino puede llegar todavía.",
    again: "Sí los quiero",
    back: "Recibirá de nuevo estos mensajes",
    backText: "Los mensajes: {kind}.",
    stopAgain: "No, no me los envíen",
  },
};
