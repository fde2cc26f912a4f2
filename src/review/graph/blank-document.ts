/** A document without a browser, for what draws into one. */
import { parseHTML } from 'linkedom';

/** The library's own type has not all of the standard's; what the plots use is there. */
export const blankDocument = (): Document =>
  parseHTML('<html><body></body></html>').document as unknown as Document;
