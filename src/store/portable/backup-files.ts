/** How a backup is told from any other file. */
export const BACKUP_FORMAT = 'ebbline-backup';
export const BACKUP_VERSION = 1;
/** First file of a backup: what it is. Last file: SHA-256 of all before it, as sha256sum(1) writes and checks them. */
export const ABOUT_FILE = 'ebbline-backup.json';
export const SUMS_FILE = 'SHA256SUMS';
