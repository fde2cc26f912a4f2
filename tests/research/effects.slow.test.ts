/** The same with all its tries. */
import './effects.test.ts';
