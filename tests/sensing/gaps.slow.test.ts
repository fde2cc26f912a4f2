/** gaps.test.ts with all its seeds. */
import './gaps.test.ts';
