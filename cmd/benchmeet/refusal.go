package main

import "benchmeet/cmd/benchmeet/sheet"

// refuse makes a refusal of an input, or a wish, that was understood and breaks a rule:
// exit code 1. The sentence names the thing and the rule.
func refuse(format string, args ...any) error { return sheet.Refuse(format, args...) }
