package main

import "benchmeet/cmd/benchmeet/sheet"

// refusal is an input, or a wish, that was understood and breaks a rule: exit code 1.
type refusal = sheet.Refusal

// refuse makes a refusal; the sentence names the thing and the rule.
func refuse(format string, args ...any) error { return sheet.Refuse(format, args...) }
