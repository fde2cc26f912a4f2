/** The same with every error that a disk has a name for. */
import './failing-disk.test.ts';
