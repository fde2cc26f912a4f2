/**
 * What spreadsheets interpret as the start of a formula: the signs, their full-width forms, tabs and returns, also after quotes and
 * blanks, which some programs remove first (OWASP, "CSV Injection").
 */
export const LIKE_FORMULA = /^["'\s]*[=+\-@\uff1d\uff0b\uff0d\uff20\t\r\n]/;
