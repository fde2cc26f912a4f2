/** failing-disk.test.ts with every error code of a disk. */
import './failing-disk.test.ts';
