/** The same in all its zones. */
import './days.test.ts';
