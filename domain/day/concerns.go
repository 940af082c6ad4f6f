package day

// note marks what an event concerns in the state as it is. It is called before and
// after the event is put in, for some lead from one division to another. What is not
// listed here concerns everything.
func note(s *State, e Event) {
	switch e := e.(type) {
	case PlanChanged, MeetPaused, OfficialWanted, TimesTold, HeatsOrdered, HeatHeld, AdultsCounted, CutsChosen:
		// The page of the meet, the call board and the day plan, which are always looked at.
	case BenchServiceChanged: // a car at the bench is ready no more, or again
		if heat, there := s.HeatOn(e.Bench); there {
			noteHeat(s, heat)
		}
	case BatteryChecked, PacksAdded, PackIssued, PackReturned, PackPutBack, CarInspected, InspectionLapsed:
		// The inspector's table.
	case ProtestLodged:
		// The list of protests.

	case HeatCalled:
		noteHeat(s, e.Heat)
	case HeatCalledOff:
		noteHeat(s, e.Heat)
	case LaneLeft:
		noteHeat(s, e.Heat)
	case LaneMoved:
		noteHeat(s, e.Heat)
	case BenchReady:
		noteHeat(s, e.Heat)
	case ReadyTakenBack:
		noteHeat(s, e.Heat)
	case HeatStarted:
		noteHeat(s, e.Heat)
	case RunRecorded:
		noteHeat(s, e.Heat)
	case ResultsPosted:
		noteHeat(s, e.Heat)
	case RerunAsked:
		noteHeat(s, e.Heat)
	case RerunTurnedDown:
		noteHeat(s, e.Heat)
	case RunLeftStanding:
		noteHeat(s, e.Heat)
	case PenaltyGiven:
		noteHeat(s, e.Heat)
	case StatusRuled:
		noteHeat(s, e.Heat)
	case RaceAllowed:
		noteHeat(s, e.Heat)
	case ProtestRuled:
		noteHeat(s, s.Protests[e.ID].Heat)
	case PacksDealt:
		for _, h := range e.Heats {
			noteHeat(s, h.Heat)
		}

	case RerunGranted: // an entry's re-runs are counted
		noteDivision(s, s.Heats[e.Heat].Division)
	case LanesSwapped:
		noteDivision(s, s.Heats[e.Heat].Division)
	case HeatVoided:
		noteDivision(s, s.Heats[e.Heat].Division)
	case DeciderDrawn:
		noteDivision(s, s.Heats[e.Heat].Division)
	case DeciderDropped:
		noteDivision(s, s.Heats[e.Heat].Division)
	case RunAccepted:
		noteRun(s, e.Run)
		noteDivision(s, s.Heats[e.Heat].Division)
	case RunReassigned:
		noteRun(s, e.Run)
		noteDivision(s, s.Heats[e.FromHeat].Division)
		noteDivision(s, s.Heats[e.Heat].Division)
	case RunSetAside:
		noteRun(s, e.Run)
	case HandCountCorrected:
		noteRun(s, e.Run)
	case RunMeasuredAgain:
		noteRun(s, e.Run)

	case EntryTaken:
		noteDivision(s, s.Entries[e.ID].Division)
	case EntryChanged:
		noteDivision(s, s.Entries[e.ID].Division)
	case EntryCheckedIn:
		noteDivision(s, s.Entries[e.Entry].Division)
	case EntryWithdrawn:
		noteDivision(s, s.Entries[e.Entry].Division)
	case EntryDisqualified:
		noteDivision(s, s.Entries[e.Entry].Division)
	case EntryReinstated:
		noteDivision(s, s.Entries[e.Entry].Division)

	case EntriesClosed:
		noteDivision(s, e.Division)
	case EntriesReopened:
		noteDivision(s, e.Division)
	case DivisionSeeded:
		noteDivision(s, e.Division)
	case RoundDrawn:
		noteDivision(s, e.Division)
	case RoundDrawnAgain:
		noteDivision(s, e.Drawn.Division)
	case RestDrawnAgain:
		noteDivision(s, e.Division)
	case DrawLetStand:
		noteDivision(s, e.Division)
	case RoundClosed:
		noteDivision(s, e.Division)
	case ProgrammeEnded:
		noteDivision(s, e.Division)
	case ResultsPublished:
		noteDivision(s, e.Division)

	default:
		s.Changed.all = s.Seq
	}
}

// noteHeat marks a heat with its legs, whose benches follow from one another, and its
// division with those that race in it.
func noteHeat(s *State, id HeatID) {
	h, there := s.Heats[id]
	if !there {
		return
	}
	s.Changed.heats[id] = s.Seq
	if h.Leg > 0 {
		first := h.Division.Heat(h.Stage, h.Round, h.Number)
		for leg := range ThirdLeg {
			s.Changed.heats[first.Leg(leg+1)] = s.Seq
		}
	}
	together(s, h.Division, func(d DivisionID) { s.Changed.any[d] = s.Seq })
}

func noteDivision(s *State, id DivisionID) {
	together(s, id, func(d DivisionID) { s.Changed.whole[d] = s.Seq })
}

// noteRun marks the division that a run was made in.
func noteRun(s *State, id RunID) { noteDivision(s, s.Heats[s.Runs[id].Heat].Division) }

// together visits a division and those that race with it.
func together(s *State, id DivisionID, visit func(DivisionID)) {
	if id == "" {
		return
	}
	host := id
	if into := s.Programmes[id].MergedInto; into != "" {
		host = into
	}
	visit(host)
	for d, p := range s.Programmes {
		if p.MergedInto == host {
			visit(d)
		}
	}
}
