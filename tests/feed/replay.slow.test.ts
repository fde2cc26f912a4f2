/** replay.test.ts with every place to cut. */
import './replay.test.ts';
