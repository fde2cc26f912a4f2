/** The same with all its tries. */
import './lapse.test.ts';
