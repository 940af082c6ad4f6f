package naming

import (
	"strconv"
	"strings"

	"benchmeet/bracket"
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// Heat is what a heat is called within a sentence, with its division: "Juniors, round 1,
// heat 2", "Juniors, semi-final 2, leg 1", "Juniors, group B, round 1, heat 3".
func Heat(s *day.State, h day.Heat) string {
	parts := []string{s.Divisions[h.Division].Name}
	if h.Group != "" {
		parts = append(parts, "group "+h.Group)
	}
	parts = append(parts, inDivision(s, h))
	switch {
	case h.Leg > 2:
		parts = append(parts, "decider")
	case h.Leg > 0:
		parts = append(parts, "leg "+strconv.Itoa(h.Leg))
	}
	return strings.Join(parts, ", ")
}

// purposes are heats that decide more than who goes on.
var purposes = map[bracket.Purpose]string{
	bracket.Final: "final", bracket.SecondFinal: "second final", bracket.ThirdPlace: thirdPlace,
	bracket.PlateFinal: "plate final", bracket.BFinal: "B-final",
}

const thirdPlace = "race for third place"

func inDivision(s *day.State, h day.Heat) string {
	if h.Third {
		return thirdPlace
	}
	knockout := kindOf(s, h.Division, h.Stage) == "knockout"
	if says := purposes[programme.Purpose(s, h)]; says != "" && !knockout {
		return says
	}
	round := Round(s, h.Division, h.Stage, h.Round)
	if knockout && programme.PartOf(s, h.Division, h.Stage, h.Round).Left == 1 {
		return round
	}
	if one, halves := strings.CutSuffix(round, "-finals"); halves {
		return one + "-final " + strconv.Itoa(h.Number)
	}
	return round + ", heat " + strconv.Itoa(h.Number)
}

// Round is what a round is called within a sentence: "round 2", "semi-finals", "plate: final",
// "losers’ round 3".
func Round(s *day.State, d day.DivisionID, stage, round int) string {
	part := programme.PartOf(s, d, stage, round)
	kind := kindOf(s, d, stage)
	switch {
	case part.Part == bracket.WinnersPart:
		return "winners’ round " + strconv.Itoa(part.Number)
	case part.Part == bracket.LosersPart:
		return "losers’ round " + strconv.Itoa(part.Number)
	case kind == "double-elimination" && part.Left > 0:
		if part.Number == 1 {
			return "final"
		}
		return "second final"
	case kind != "knockout":
		return "round " + strconv.Itoa(round)
	}
	name := "knockout, round " + strconv.Itoa(round)
	if part.Left > 0 {
		name = knockoutRound(part.Left)
	}
	if part.Part == bracket.PlatePart {
		return "plate, " + name
	}
	return name
}

// knockoutRound is a round of a knockout by how many there are from it on.
func knockoutRound(left int) string {
	switch left {
	case 1:
		return "final"
	case 2:
		return "semi-finals"
	case 3:
		return "quarter-finals"
	}
	return "last " + strconv.Itoa(1<<left)
}

func kindOf(s *day.State, d day.DivisionID, stage int) string {
	if stages := s.Divisions[d].Stages; stage >= 1 && stage <= len(stages) {
		return string(stages[stage-1].Kind())
	}
	return ""
}
