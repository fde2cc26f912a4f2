/** The same with all its seeds. */
import './gaps.test.ts';
