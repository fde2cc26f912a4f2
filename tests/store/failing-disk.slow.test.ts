/** The same with all its codes. */
import './failing-disk.test.ts';
