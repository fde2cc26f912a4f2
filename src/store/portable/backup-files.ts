/** Identification of a backup file. */
export const BACKUP_FORMAT = 'ebbline-backup';
/** 2: with studies and passports of nipples; 1 is read as well. */
export const BACKUP_VERSION = 2;
/** First file of a backup: what it is. Last file: SHA-256 of all before it, as sha256sum(1) writes and checks them. */
export const ABOUT_FILE = 'ebbline-backup.json';
export const SUMS_FILE = 'SHA256SUMS';

/** Folders beside database and captures that belong to a data folder. Results of studies are left out, since they can be computed again. */
export const SIDE_FOLDERS = ['studies', 'nipples'] as const;
const STUDY_FILES =
  'protocol\\.json|allocation-key\\.json|(allocations|sessions|audit|learned|handed-out)\\.jsonl';
const SIDE_FILE = new RegExp(
  `^(studies/[A-Za-z0-9][A-Za-z0-9-]{0,19}/(${STUDY_FILES})|nipples/[0-9a-f]{16}\\.json)$`,
);
const FILE =
  /^(ebbline-backup\.json|SHA256SUMS|feeds\.sqlite|captures\/[a-z0-9][a-z0-9-]{0,63}\.(cap|cap\.cols|cap\.gz|json))$/;

/** Whether a file of this name may be in a backup; names use slashes on every system. */
export const isBackupFile = (name: string): boolean => FILE.test(name) || isSideFile(name);
export const isSideFile = (name: string): boolean => SIDE_FILE.test(name);
