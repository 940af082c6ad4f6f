// Package sheet is the file formats of the computations that anybody can do again
// from a file: what each reads, as JSON or CSV, with a help text that shows a whole
// small example, and what it writes. One noun a file; the arithmetic is the
// domain's. Formats are fixed: fields may be added, none may change.
//
// It opens no file and knows no flag; the commands do that. An input that cannot be
// read is an error that names the line or the field, one that breaks a rule a
// *Refusal that names the entry and the rule.
package sheet
