/** The same with all its tries. */
import './portion.test.ts';
