/** days.test.ts with all its time zones. */
import './days.test.ts';
