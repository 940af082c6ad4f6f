// Package entrytable reads entries from a table that somebody pasted or saved from a
// spreadsheet, and writes them as one: separated by comma, semicolon or tab, with or
// without a byte order mark, in UTF-8 or Windows-1252.
//
// Reading never stops at the first mistake of a cell: every mistake has its line, its
// column and a sentence that says what to do, so that a list of thirty children is put
// right in one go. Only what makes the rest unreadable, such as a quotation mark that
// nobody closed, ends it there. Nothing is taken here: [Look] says what would be.
//
// The form is that of RFC 4180 (Y. Shafranovich, "Common Format and MIME Type for
// Comma-Separated Values (CSV) Files", 2005), read by encoding/csv.
package entrytable
