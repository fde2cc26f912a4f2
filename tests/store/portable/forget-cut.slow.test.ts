/** The same with all its steps. */
import './forget-cut.test.ts';
