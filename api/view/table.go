package view

import (
	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/inspection"
)

// InspectorTable is how every car and every pack stands at an instant.
func (v MeetView) InspectorTable(nowUS int64) gen.InspectorTable {
	s, at := v.State, tableView{v, nowUS}
	out := gen.InspectorTable{
		Seq: v.Head.Seq, At: wire.Instant(nowUS), BatteryGate: wire.ShowGate(s.Rules.BatteryGate),
		InspectionGate: wire.ShowGate(s.Rules.InspectionGate),
		Entries:        []gen.TableEntry{}, Packs: []gen.Pack{},
	}
	held := map[day.EntryID]bool{}
	for _, d := range s.SortedDivisions() {
		for _, entry := range inspection.PodiumToCheck(s, d.ID) {
			held[entry] = true
		}
	}
	for _, e := range s.SortedEntries("") {
		out.Entries = append(out.Entries, at.entry(e, held[e.ID]))
	}
	for _, p := range inspection.SortedPacks(s) {
		out.Packs = append(out.Packs, at.pack(p))
	}
	return out
}

// tableView is the inspector's table at an instant.
type tableView struct {
	MeetView
	nowUS int64
}

func (v tableView) entry(e day.Entry, held bool) gen.TableEntry {
	g := inspection.EntryGate(v.State, e.ID, v.nowUS)
	out := gen.TableEntry{
		Racer: v.Racer(e.ID), Division: string(e.Division), Car: string(e.Car), CheckedIn: e.CheckedIn, Racing: e.Racing(),
		Pack: wire.Opt(string(g.Pack)), PackValidUntil: wire.OptInstant(g.PackValidUS),
		RestsUntil: wire.OptInstant(inspection.EntryRestsUntilUS(v.State, e.ID, v.nowUS)),
		Battery:    wire.ShowSays(g.Battery), Inspection: wire.ShowSays(g.Inspection), Tries: []gen.InspectionTry{}, Held: held,
	}
	i := v.State.Inspections[e.ID]
	switch {
	case i.Passed:
		out.Inspected = "passed"
	case i.Lapsed != "":
		out.Inspected = "lapsed"
	case len(i.Tries) > 0:
		out.Inspected = "failed"
	case len(v.State.Divisions[e.Division].Class.Checklist) > 0:
		out.Inspected = "none"
	default:
		out.Inspected = "not-asked"
	}
	for _, t := range i.Tries {
		out.Tries = append(out.Tries, wire.ShowInspectionTry(t))
	}
	return out
}

func (v tableView) pack(p day.Pack) gen.Pack {
	out := gen.Pack{
		Id: string(p.ID), Lent: p.Lent, Racer: v.optRacer(p.Entry), Aside: p.Aside, Hurt: p.Hurt,
		Checks: []gen.PackCheck{}, Runs: []gen.PackRun{},
	}
	for _, c := range p.Checks {
		out.Checks = append(out.Checks, wire.ShowPackCheck(c, v.optRacer(c.Entry)))
	}
	for _, r := range p.Runs {
		out.Runs = append(out.Runs, gen.PackRun{Heat: string(r.Heat), Run: string(r.Run), From: wire.Instant(r.FromUS), To: wire.Instant(r.ToUS)})
	}
	return out
}

// RunBatteries are the packs of runs with what they showed at their last check
// before.
func RunBatteries(s *day.State) map[day.RunID]*gen.RunBattery {
	out := map[day.RunID]*gen.RunBattery{}
	for _, p := range inspection.SortedPacks(s) {
		for _, r := range p.Runs {
			for _, c := range p.Checks {
				if c.AtUS > r.FromUS {
					break
				}
				out[r.Run] = &gen.RunBattery{
					Pack: string(p.ID), Chemistry: string(c.Chemistry), OpenV: wire.Thousandths(c.OpenMV),
					LoadV: wire.OptThousandths(c.LoadMV), ResistanceMohm: c.ResistanceMOhm,
				}
			}
		}
	}
	return out
}
