/** lapse.test.ts with all its tries. */
import './lapse.test.ts';
