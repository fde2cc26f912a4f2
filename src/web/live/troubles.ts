/**
 * Faults that do not stop the feed, in the reader's language. The program reports them in English, with the file or place; the Spanish texts here, found
 * by error code, are shorter, since whoever fixes it sits at the computer, which shows the English line. Pure.
 */
import type { LiveView } from '../../feed/live/live-view.ts';
import type { Language } from '../../pacing/cues/words.ts';

export const TROUBLES_ES: Readonly<Record<string, string>> = {
  'store-full': 'El disco está lleno. Lo guardado antes está a salvo. Libere espacio.',
  'store-folder': 'Ebbline no puede escribir en su carpeta. Dele permiso de escritura.',
  'store-foreign': 'El archivo de datos no es de Ebbline y quedó como estaba. Muévalo a otro lugar.',
  'store-strained': 'A la computadora le falta memoria. Cierre otros programas.',
  'store-away': 'El disco no responde. Vuelva a conectarlo.',
  'store-unwritten': 'No se puede escribir en el disco: está lleno o falla. Libere espacio.',
  'store-damaged':
    'No se pueden leer los datos: el archivo o el disco está dañado. Copie antes toda la carpeta a otro disco.',
  'store-gone':
    'El archivo de datos ya no está donde estaba. Devuélvalo a su lugar, o inicie Ebbline de nuevo después de la toma; lo medido no se pierde.',
  'store-busy': 'Otro programa usa los datos. Ciérrelo.',
  'database-away':
    'La base de datos no responde. Lo que llega mientras tanto espera en la memoria y se guarda después.',
  'database-refused': 'La base de datos no acepta el usuario o la contraseña. Revíselos.',
  'database-certificate': 'El certificado de la base de datos venció o no es de confianza. Renuévelo.',
  'database-no-tls': 'La base de datos no cifra la conexión. Active TLS en ella.',
  'database-missing': 'Esa base de datos no existe. Créela en el servidor.',
  'database-rights': 'El usuario de la base de datos no tiene ese permiso. Pídaselo a quien la administra.',
  'store-overtaken': 'Otro proceso guarda ahora esta toma. Deje que siga.',
  'store-failed': 'El disco o la base de datos falla. Revise el disco.',
  'store-taken': 'Ya hay una toma guardada con ese nombre. Esta espera en la memoria.',
  'store-mixed': 'Los datos guardados no encajan con esta toma. Espera en la memoria.',
  'store-no-feed': 'La toma no está en el disco. Espera en la memoria.',
  'pace-profile-invalid':
    'Una cifra del plan de este bebé está fuera de su rango. Corríjala en «Antes de la toma».',
  'raw-lost':
    'La memoria se llenó: faltan mediciones de esta toma, pero no su leche, sus avisos ni sus horas.',
};

/** @returns the text and its language; null without a fault. A code without a Spanish text keeps the English line. */
export function noticeLine(
  { notice, noticeCodes = [] }: Pick<LiveView, 'notice' | 'noticeCodes'>,
  language: Language,
): { text: string; language: Language } | null {
  if (notice === null) return null;
  const lines = noticeCodes.map((code) => TROUBLES_ES[code]);
  if (language === 'en' || lines.length === 0 || lines.includes(undefined)) {
    return { text: notice, language: 'en' };
  }
  return { text: lines.join(' '), language };
}
