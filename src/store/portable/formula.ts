/**
 * What spreadsheets take for the start of a formula: the signs themselves, their full-width forms, tabs and returns, also behind quotes and
 * blanks, which some programs take off first (OWASP, "CSV Injection").
 */
export const LIKE_FORMULA = /^["'\s]*[=+\-@\uff1d\uff0b\uff0d\uff20\t\r\n]/;
