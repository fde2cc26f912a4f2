/** The same with every cut. */
import './replay.test.ts';
