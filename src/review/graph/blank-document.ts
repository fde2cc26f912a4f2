/** A document object without a browser, for drawing libraries. */
import { parseHTML } from 'linkedom';

/** The library's type lacks parts of the standard; everything that the plots use is present. */
export const blankDocument = (): Document =>
  parseHTML('<html><body></body></html>').document as unknown as Document;
