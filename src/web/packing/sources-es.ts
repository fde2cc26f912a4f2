/** Sources of times and assumptions in Spanish, by the English text that planning uses. Names of papers and institutions are not translated. */
import type { Language } from '../../pacing/cues/words.ts';

const CDC = 'CDC, conservación y preparación de la leche materna';
const CDC_FORMULA = 'CDC, preparación y conservación de la fórmula infantil';
const NHS = 'NHS, extraer y conservar la leche materna (citado por otros)';
const OWN = 'suposición de este programa, sin fuente';

export const SOURCES_ES: Readonly<Record<string, string>> = {
  'CDC, storage and preparation of breast milk; beside it 6 hours (NHS, expressing and storing breast milk (quoted by others))': `${CDC}; al lado, 6 horas (${NHS})`,
  'CDC, storage and preparation of breast milk, on the way; the same for milk that was cold before (NHS, expressing and storing breast milk (quoted by others))': `${CDC}, en camino; lo mismo para leche que ya estaba fría (${NHS})`,
  'CDC, storage and preparation of breast milk; beside it 4 days, 5 to 8 if very clean (ABM Clinical Protocol 8, 2017, from memory); 8 days, or 3 in a fridge above 4 °C (NHS, expressing and storing breast milk (quoted by others))': `${CDC}; al lado, 4 días, de 5 a 8 si todo está muy limpio (ABM Clinical Protocol 8, 2017, de memoria); 8 días, o 3 en un refrigerador a más de 4 °C (${NHS})`,
  'CDC, storage and preparation of breast milk; ABM Clinical Protocol 8 (2017, from memory); up to 6 months (NHS, expressing and storing breast milk (quoted by others))': `${CDC}; ABM Clinical Protocol 8 (2017, de memoria); hasta 6 meses (${NHS})`,
  'CDC, storage and preparation of breast milk; ABM Clinical Protocol 8 (2017, from memory)': `${CDC}; ABM Clinical Protocol 8 (2017, de memoria)`,
  'CDC, storage and preparation of breast milk; the same in a hospital’s leaflet (NHS Lothian)': `${CDC}; lo mismo en el folleto de un hospital (NHS Lothian)`,
  'CDC, storage and preparation of breast milk': CDC,
  'CDC, storage and preparation of breast milk (this line from memory)': `${CDC} (esta línea, de memoria)`,
  'NHS, expressing and storing breast milk (quoted by others); beside it 2 hours after the feed (CDC, storage and preparation of breast milk)': `${NHS}; al lado, 2 horas después de la toma (${CDC})`,
  'CDC, storage and preparation of breast milk; beside it 1 hour once the baby has drunk (NHS, expressing and storing breast milk (quoted by others))': `${CDC}; al lado, 1 hora una vez que el bebé bebió (${NHS})`,
  'CDC, infant formula preparation and storage; WHO/FAO 2007, powdered formula: unchilled within 2 hours': `${CDC_FORMULA}; OMS/FAO 2007, fórmula en polvo: sin enfriar, antes de 2 horas`,
  'CDC, infant formula preparation and storage; WHO/FAO 2007': `${CDC_FORMULA}; OMS/FAO 2007`,
  'CDC, infant formula preparation and storage': CDC_FORMULA,
  'assumption of this program, no source': OWN,
  'common practice, no source': 'práctica común, sin fuente',
  'feeds kept on this computer; a day counts half every 14 days (own choice)':
    'tomas guardadas en esta computadora; cada 14 días un día cuenta la mitad (elección propia)',
  'strictest of the usual center rules: common practice, no source; published times stand in the milk list':
    'la más estricta de las normas habituales de los centros: práctica común, sin fuente; los tiempos publicados están en la lista de leche',
  'Rios-Leyvraz and Yao 2023, Breastfeed Med 18(3): curve on 167 studies of children from birth to 3 years; its table is of term, exclusively breastfed babies up to 6 months, with solids beyond; its "log" is the natural one, which gives back that table (derived)':
    'Rios-Leyvraz y Yao 2023, Breastfeed Med 18(3): curva de 167 estudios con niños desde el nacimiento hasta los 3 años; su tabla es de bebés a término, solo con leche materna hasta los 6 meses, con sólidos después; su «log» es el natural, que devuelve esa tabla (deducido)',
  'range 478 to 1298 mL a day among breastfed babies of 1 to 6 months (summary of Kent’s data, partly from memory); taken as ±2.4 standard deviations of about 71 babies (number from memory)':
    'de 478 a 1298 mL al día entre bebés amamantados de 1 a 6 meses (resumen de los datos de Kent, en parte de memoria); tomado como ±2.4 desviaciones típicas de unos 71 bebés (número de memoria)',
  'day-to-day variation 13 to 15 %, formula-fed babies weighed for days (1986, J Pediatr Gastroenterol Nutr 5:434)':
    'variación de un día a otro del 13 al 15 %, bebés con fórmula pesados durante días (1986, J Pediatr Gastroenterol Nutr 5:434)',
  'assumption of this program; that children eat more after an illness: guiding principles for complementary feeding of the breastfed child (PAHO and WHO 2003), which are for 6 months on':
    'suposición de este programa; que los niños comen más después de una enfermedad: principios de orientación para la alimentación complementaria del niño amamantado (OPS y OMS 2003), que son a partir de los 6 meses',
  'mothers who led took about 42 % more, −53 to +269 %, 21 mothers (Ventura, Childhood Obesity, abstract); its shape is an assumption':
    'con madres que dirigían la toma, un 42 % más, de −53 a +269 %, 21 madres (Ventura, Childhood Obesity, resumen); su forma es una suposición',
  '2 to 4 fl oz, more and smaller: common practice, no source; beside it, most breastfed babies take 2 to 4 fl oz when they start other feeding, stored as 2 fl oz with top-ups of 1 to 2 (ABM Clinical Protocol 8, 2004)':
    'de 2 a 4 fl oz, más y más pequeños: práctica común, sin fuente; al lado, la mayoría de los bebés amamantados toma de 2 a 4 fl oz cuando empieza con otra alimentación, guardada en 2 fl oz con añadidos de 1 a 2 (ABM Clinical Protocol 8, 2004)',
};

/** @returns the source in the reader's language; the text of a family's own rule is not translated */
export const sourceText = (source: string, language: Language): string =>
  language === 'es' ? (SOURCES_ES[source] ?? source) : source;
