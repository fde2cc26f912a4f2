/** Texts of the page about stored data. */
import type { Language } from '../../pacing/cues/words.ts';

export interface KeptWords {
  title: string;
  where: (folder: string) => string;
  takeTitle: string;
  take: string;
  takeLink: string;
  takeMore: string;
  babies: string;
  none: string;
  baby: (name: string, feeds: number, handFeeds: number) => string;
  forget: (name: string) => string;
  warning: (name: string) => string;
  typeName: (name: string) => string;
  goOn: string;
  sure: (name: string) => string;
  yes: string;
  no: string;
  done: (name: string, feeds: number) => string;
  mentions: (count: number) => string;
  unreachable: (paths: string) => string;
  elsewhere: string;
  notHere: string;
}

const counted = (count: number, one: string, more: string): string => `${count} ${count === 1 ? one : more}`;

export const KEPT_WORDS: Record<Language, KeptWords> = {
  en: {
    title: 'What is kept',
    where: (folder) =>
      `Feeds are kept on the computer that runs Ebbline, in ${folder}. Nothing is sent anywhere.`,
    takeTitle: 'Take it with you',
    take: 'One file with everything but the raw bytes of the sleeve. It holds names and times: keep it private.',
    takeLink: 'Save everything as a file',
    takeMore:
      'On the computer itself there is more: “ebbline feeds export” for spreadsheets, “ebbline data backup” for all of it as one file.',
    babies: 'Babies',
    none: 'Nothing is kept of any baby by name.',
    baby: (name, feeds, handFeeds) =>
      `${name}: ${counted(feeds, 'feed', 'feeds')}, ${handFeeds} written in by hand`,
    forget: (name) => `Delete all of ${name} …`,
    warning: (name) =>
      `Every feed of ${name}, its graphs, notes and milk entries will be deleted for good. There is no way back but a backup.`,
    typeName: (name) => `Type “${name}” to go on`,
    goOn: 'Go on',
    sure: (name) => `Delete all of ${name} for good?`,
    yes: 'Yes, delete',
    no: 'No, keep it',
    done: (name, feeds) => `All of ${name} is deleted: ${counted(feeds, 'feed', 'feeds')}.`,
    mentions: (count) =>
      `The name still stands in ${counted(count, 'record', 'records')} of others, such as a note.`,
    unreachable: (paths) => `Not reached, delete it yourself: ${paths}`,
    elsewhere: 'Files that were saved, backed up or handed on are elsewhere; delete those yourself.',
    notHere: 'Only on the computer that runs Ebbline can a baby be deleted.',
  },
  es: {
    title: 'Lo que se guarda',
    where: (folder) =>
      `Las tomas se guardan en la computadora donde corre Ebbline, en ${folder}. No se envía nada a ninguna parte.`,
    takeTitle: 'Llevárselo',
    take: 'Un archivo con todo, salvo los bytes crudos de la funda. Contiene nombres y horas: guárdelo en privado.',
    takeLink: 'Guardar todo en un archivo',
    takeMore:
      'En la propia computadora hay más: «ebbline feeds export» para hojas de cálculo, «ebbline data backup» para todo en un archivo.',
    babies: 'Bebés',
    none: 'No se guarda nada de ningún bebé con nombre.',
    baby: (name, feeds, handFeeds) =>
      `${name}: ${counted(feeds, 'toma', 'tomas')}, ${handFeeds} anotadas a mano`,
    forget: (name) => `Borrar todo de ${name} …`,
    warning: (name) =>
      `Se borrarán para siempre todas las tomas de ${name}, sus gráficas, notas y anotaciones de leche. Solo una copia de seguridad podría devolverlas.`,
    typeName: (name) => `Escriba «${name}» para seguir`,
    goOn: 'Seguir',
    sure: (name) => `¿Borrar para siempre todo de ${name}?`,
    yes: 'Sí, borrar',
    no: 'No, conservar',
    done: (name, feeds) => `Todo de ${name} está borrado: ${counted(feeds, 'toma', 'tomas')}.`,
    mentions: (count) =>
      `El nombre sigue en ${counted(count, 'registro', 'registros')} de otros, por ejemplo en una nota.`,
    unreachable: (paths) => `No se alcanzó; bórrelo usted: ${paths}`,
    elsewhere: 'Los archivos guardados, copiados o entregados están en otra parte; bórrelos usted.',
    notHere: 'Solo en la computadora donde corre Ebbline se puede borrar un bebé.',
  },
};
