/** The indices of nutritive sucking in Spanish: what people read of each. Keys, units and formulas are those of definitions.ts. */
import { INDICES, type IndexDefinition, type IndexKey } from './definitions.ts';

type Read = Pick<IndexDefinition, 'label' | 'definition' | 'source'>;

const OWN = 'definición propia';
/** A citation stays as it is but for how much of it was seen. */
const citedAs = (source: string): string => source.replaceAll('(abstract)', '(resumen)');

export const INDICES_ES: Record<IndexKey, Read> = {
  intakeMl: {
    label: 'Leche tomada',
    definition: 'Leche que salió del biberón con la tetina en la boca, sin contar la leche derramada.',
    source: OWN,
  },
  durationMin: {
    label: 'Duración de la toma',
    definition: 'Desde el primer agarre hasta el último momento con la tetina en la boca, pausas incluidas.',
    source: OWN,
  },
  transferRateMlPerMin: {
    label: 'Velocidad de transferencia de leche',
    definition: 'Leche tomada por minuto en toda la toma, pausas incluidas.',
    source: citedAs(INDICES.transferRateMlPerMin.source),
  },
  proficiencyPercent: {
    label: 'Proporción en los primeros cinco minutos',
    definition: 'Parte de la porción prevista que se tomó en los primeros cinco minutos.',
    source: citedAs(INDICES.proficiencyPercent.source),
  },
  overallTransferPercent: {
    label: 'Proporción de la porción prevista',
    definition:
      'Parte de la porción prevista que se tomó en la toma. No es una meta: los bebés paran cuando han tenido suficiente.',
    source: citedAs(INDICES.overallTransferPercent.source),
  },
  suckCount: {
    label: 'Succiones',
    definition: 'Succiones nutritivas en la toma.',
    source: citedAs(INDICES.suckCount.source),
  },
  suckRatePerMin: {
    label: 'Frecuencia de succión dentro de las series',
    definition:
      'Succiones por minuto mientras el bebé succiona: por el tiempo entre succiones de una misma serie.',
    source: citedAs(INDICES.suckRatePerMin.source),
  },
  burstCount: {
    label: 'Series de succiones',
    definition: 'Sucesiones de al menos dos succiones, ninguna más de 2.5 s después de la anterior.',
    source:
      'Medoff-Cooper 2002, J Dev Behav Pediatr 23:231-236 (resumen); los 2.5 s son práctica común, sin fuente',
  },
  sucksPerBurst: {
    label: 'Succiones por serie',
    definition: 'Número medio de succiones en una serie.',
    source: citedAs(INDICES.sucksPerBurst.source),
  },
  burstLengthSec: {
    label: 'Duración de una serie',
    definition: 'Tiempo medio desde el comienzo de la primera succión de una serie hasta el de la última.',
    source: citedAs(INDICES.burstLengthSec.source),
  },
  pauseLengthSec: {
    label: 'Duración de una pausa',
    definition:
      'Tiempo medio desde la última succión de una serie hasta la primera de la siguiente, con la tetina en la boca todo ese tiempo.',
    source: citedAs(INDICES.pauseLengthSec.source),
  },
  volumePerSuckMl: {
    label: 'Leche por succión',
    definition: 'Promedio de la toma; el peso no distingue una succión de otra.',
    source: 'Jain et al. 1987, J Pediatr (resumen; autores citados de memoria)',
  },
  suckingSharePercent: {
    label: 'Parte del tiempo en que succiona',
    definition: 'Tiempo dentro de las series como parte de la toma.',
    source: citedAs(INDICES.suckingSharePercent.source),
  },
  flowWhileSuckingMlPerMin: {
    label: 'Leche por minuto de succión',
    definition: 'Leche tomada dividida por el tiempo dentro de las series.',
    source: citedAs(INDICES.flowWhileSuckingMlPerMin.source),
  },
  flowMedianMlPerMin: {
    label: 'Flujo, mediana',
    definition: 'Mediana en el tiempo del flujo de 10 s, con la tetina en la boca.',
    source: OWN,
  },
  flowP90MlPerMin: {
    label: 'Flujo, percentil 90',
    definition: 'Percentil 90 en el tiempo del flujo de 10 s, con la tetina en la boca.',
    source: OWN,
  },
  timeToHalfMin: {
    label: 'Tiempo hasta la mitad',
    definition: 'Tiempo desde el agarre hasta haber tomado la mitad de lo que se tomó.',
    source: 'según Lucas, Lucas y Baum 1981, Early Hum Dev 5:195-199 (resumen)',
  },
  timeTo80PercentMin: {
    label: 'Tiempo hasta el 80 %',
    definition: 'Tiempo desde el agarre hasta haber tomado el 80 % de lo que se tomó.',
    source: 'según Lucas, Lucas y Baum 1981, Early Hum Dev 5:195-199 (resumen)',
  },
  highFlowPeriods: {
    label: 'Períodos de flujo alto',
    definition:
      'Tramos de al menos 10 s en que el flujo de 10 s es de 6 mL/min o más. Con biberón, un ritmo suave puede ser un solo tramo largo.',
    source:
      'límite de 0.1 g/s de Idei et al. 2024, Midwifery, doi 10.1016/j.midw.2024.104039 (resumen; sobre la extracción de leche)',
  },
  leakageMl: {
    label: 'Leche derramada',
    definition: 'Leche que salió del biberón y no entró en la boca, donde el peso lo muestra.',
    source: OWN,
  },
};
