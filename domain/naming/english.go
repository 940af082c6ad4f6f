package naming

import (
	"strings"

	"benchmeet/domain/refusal"
)

// english are the words for the parts of a name; {n} is replaced by the part's value. The pages
// have them in each other language (web/src/lib/i18n/de/refused/called.ts).
var english = map[string]string{
	"division":       "{n}",
	"group":          "group {n}",
	"round":          "round {n}",
	"winners-round":  "winners’ round {n}",
	"losers-round":   "losers’ round {n}",
	"knockout-round": "knockout, round {n}",
	"plate":          "plate",
	"last":           "last {n}",
	"quarter-finals": "quarter-finals",
	"semi-finals":    "semi-finals",
	"quarter-final":  "quarter-final {n}",
	"semi-final":     "semi-final {n}",
	"final":          "final",
	"second-final":   "second final",
	"third-place":    "race for third place",
	"plate-final":    "plate final",
	"b-final":        "B-final",
	"heat":           "heat {n}",
	"leg":            "leg {n}",
	"decider":        "decider",
	"car":            "start number {n} in ",
	"bench-alone":    "bench {n} without a heat",
	"gone":           "a heat that is no more",
}

// Parts lists the codes of parts, in no particular order.
func Parts() []string {
	codes := make([]string, 0, len(english))
	for code := range english {
		codes = append(codes, code)
	}
	return codes
}

// named is a name in English with its parts.
func named(parts []refusal.Part) refusal.Name {
	var says strings.Builder
	for i, part := range parts {
		if i > 0 && parts[i-1].Code != "car" {
			says.WriteString(", ")
		}
		says.WriteString(strings.ReplaceAll(english[part.Code], "{n}", part.Value))
	}
	return refusal.Name{Says: says.String(), Parts: parts}
}
