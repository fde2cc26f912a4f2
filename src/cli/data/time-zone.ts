/** `ebbline data time-zone`: shows or sets the family's time zone. */
import { chooseZone, familyZone, tellZoneInside } from '../../app/kept/family-zone.ts';
import { say } from '../print-out.ts';
import { type Kept, withStore } from '../with-store.ts';

/** @throws FieldError if there is no such zone */
export const timeZoneCommand = async (zone: string | undefined, options: Kept): Promise<void> =>
  withStore(options, (store, folder) => {
    const now = zone === undefined ? familyZone(store) : chooseZone(store, zone);
    if (zone !== undefined && !options.simulated) tellZoneInside(folder, now.zone);
    const whence = now.isChosen ? 'as chosen' : 'as this computer’s clock is set; nobody chose one';
    say([
      `Days and times are those of ${now.zone}, ${whence}.`,
      now.asks && 'Choose yours: ebbline data time-zone America/Chicago',
    ]);
  });
