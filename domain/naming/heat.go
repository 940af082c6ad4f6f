package naming

import (
	"strconv"
	"strings"

	"benchmeet/bracket"
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
	"benchmeet/domain/refusal"
)

// Heat is what a heat is called within a sentence, with its division: "Juniors, round 1,
// heat 2", "Juniors, semi-final 2, leg 1", "Juniors, group B, round 1, heat 3".
func Heat(s *day.State, h day.Heat) string { return named(heat(s, h)).Says }

func heat(s *day.State, h day.Heat) []refusal.Part {
	parts := []refusal.Part{{Code: "division", Value: s.Divisions[h.Division].Name}}
	if h.Group != "" {
		parts = append(parts, refusal.Part{Code: "group", Value: h.Group})
	}
	parts = append(parts, inDivision(s, h)...)
	switch {
	case h.Leg > 2:
		parts = append(parts, refusal.Part{Code: "decider"})
	case h.Leg > 0:
		parts = append(parts, counted("leg", h.Leg))
	}
	return parts
}

func counted(code string, n int) refusal.Part {
	return refusal.Part{Code: code, Value: strconv.Itoa(n)}
}

// purposes are heats that decide more than who goes on.
var purposes = map[bracket.Purpose]string{
	bracket.Final: "final", bracket.SecondFinal: "second-final", bracket.ThirdPlace: thirdPlace,
	bracket.PlateFinal: "plate-final", bracket.BFinal: "b-final",
}

const thirdPlace = "third-place"

func inDivision(s *day.State, h day.Heat) []refusal.Part {
	if h.Third {
		return []refusal.Part{{Code: thirdPlace}}
	}
	knockout := kindOf(s, h.Division, h.Stage) == "knockout"
	if code := purposes[programme.Purpose(s, h)]; code != "" && !knockout {
		return []refusal.Part{{Code: code}}
	}
	parts := round(s, h.Division, h.Stage, h.Round)
	if knockout && programme.PartOf(s, h.Division, h.Stage, h.Round).Left == 1 {
		return parts
	}
	last := &parts[len(parts)-1]
	if one, halves := strings.CutSuffix(last.Code, "-finals"); halves {
		*last = counted(one+"-final", h.Number)
		return parts
	}
	return append(parts, counted("heat", h.Number))
}

// round is what a round is called within a sentence: "round 2", "semi-finals", "plate, final",
// "losers’ round 3".
func round(s *day.State, d day.DivisionID, stage, number int) []refusal.Part {
	part := programme.PartOf(s, d, stage, number)
	kind := kindOf(s, d, stage)
	switch {
	case part.Part == bracket.WinnersPart:
		return []refusal.Part{counted("winners-round", part.Number)}
	case part.Part == bracket.LosersPart:
		return []refusal.Part{counted("losers-round", part.Number)}
	case kind == "double-elimination" && part.Left > 0:
		if part.Number == 1 {
			return []refusal.Part{{Code: "final"}}
		}
		return []refusal.Part{{Code: "second-final"}}
	case kind != "knockout":
		return []refusal.Part{counted("round", number)}
	}
	name := counted("knockout-round", number)
	if part.Left > 0 {
		name = knockoutRound(part.Left)
	}
	if part.Part == bracket.PlatePart {
		return []refusal.Part{{Code: "plate"}, name}
	}
	return []refusal.Part{name}
}

// knockoutRound is a round of a knockout by how many there are from it on.
func knockoutRound(left int) refusal.Part {
	switch left {
	case 1:
		return refusal.Part{Code: "final"}
	case 2:
		return refusal.Part{Code: "semi-finals"}
	case 3:
		return refusal.Part{Code: "quarter-finals"}
	}
	return counted("last", 1<<left)
}

func kindOf(s *day.State, d day.DivisionID, stage int) string {
	if stages := s.Divisions[d].Stages; stage >= 1 && stage <= len(stages) {
		return string(stages[stage-1].Kind())
	}
	return ""
}
