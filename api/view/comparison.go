package view

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/club"
	"benchmeet/domain/comparison"
	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
	"benchmeet/domain/refusal"
)

// Comparison is the comparison of the benches of the meet.
func (v MeetView) Comparison(c *club.State, r *comparison.Report) gen.BenchComparison {
	return comparisonView{v, c}.report(r)
}

// comparisonView shows a meet's benches with what the club knows of their checks.
type comparisonView struct {
	MeetView
	club *club.State
}

func (v comparisonView) report(r *comparison.Report) gen.BenchComparison {
	out := gen.BenchComparison{
		Seq: v.Head.Seq, ClubSeq: v.club.Seq, Policy: wire.Word[gen.BenchComparisonPolicy](v.State.Rules.Benches),
		Groups: [][]int{}, Missing: []gen.Note{}, Benches: []gen.ComparedBench{}, Suspects: []gen.SuspectRun{},
		Checks: []gen.ReferenceCheck{}, Steps: wire.ShowNotes(fairness.ReferenceSteps()), Adopted: []gen.FactorSet{},
	}
	for _, set := range v.State.Factors {
		out.Adopted = append(out.Adopted, v.factorSet(set))
	}
	if set, there := v.State.FactorsInForce(); there {
		shown := v.factorSet(set)
		out.Factors = &shown
	}
	out.Offer = v.offer(r)
	out.SinceCheck = wire.Opt(r.Since)
	if f := r.Fit; f != nil {
		out.Runs, out.Cars, out.Degrees, out.Connected = f.Runs, f.Cars, max(0, f.Degrees), f.Connected()
		out.Missing = wire.ShowNotes(f.Missing)
		for _, group := range f.Groups {
			plates := []int{}
			for _, name := range group {
				n, _ := strconv.Atoi(name) // benches go by their plates
				plates = append(plates, n)
			}
			out.Groups = append(out.Groups, plates)
		}
		out.Repeatability, out.Between, out.Reproducibility = known(f.Repeatability), known(f.Between), known(f.Reproducibility)
		out.PEqual, out.Worthwhile = known(f.PBenches), f.Worthwhile()
		for _, s := range f.Suspects {
			out.Suspects = append(out.Suspects, gen.SuspectRun{Run: v.compared(r.Used[s.Run]), Off: s.Off, T: s.T})
		}
	}
	l := r.Limits()
	out.Limits = gen.ComparisonLimits{H5: known(l.H5), H1: known(l.H1), K5: known(l.K5), K1: known(l.K1)}
	for _, b := range r.Benches {
		out.Benches = append(out.Benches, v.comparedBench(b))
	}
	for _, check := range r.Checks {
		out.Checks = append(out.Checks, v.check(check))
	}
	return out
}

// known leaves out what a fit cannot say.
func known(f float64) *float64 {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return nil
	}
	return &f
}

func (v comparisonView) compared(u comparison.Used) gen.ComparedRun {
	out := gen.ComparedRun{
		Run: string(u.Run), Bench: v.State.Benches[u.Bench].Number, At: wire.Instant(u.AtUS), Heat: wire.Opt(string(u.Heat)),
		Racer: v.optRacer(u.Entry), Check: wire.Opt(u.Check),
	}
	if u.Check > 0 {
		out.CarNumber = wire.Opt(v.club.Cars.At(u.Car).Number)
	}
	return out
}

func (v comparisonView) comparedBench(b comparison.Bench) gen.ComparedBench {
	out := gen.ComparedBench{
		Bench: string(b.ID), Number: b.Number, OutOfService: v.State.Benches[b.ID].OutOfService,
		Races: b.Races, SinceGood: b.Since, LastGood: wire.OptInstant(b.LastGoodUS), Says: []gen.Note{}, InDoubt: []gen.ComparedRun{},
	}
	if f := b.Fit; f != nil {
		out.Runs, out.Says = f.Runs, wire.ShowNotes(f.Says)
		out.Factor, out.Low, out.High, out.H, out.K = known(f.Factor), known(f.Low), known(f.High), known(f.H), known(f.K)
		out.Verdict = wire.OptWord[gen.ComparedBenchVerdict](f.Verdict)
		if d := f.Drift; d != nil && known(d.Slope) != nil {
			out.Drift = &gen.Drift{PerHour: d.Slope, Low: known(d.Low), High: known(d.High), Significant: d.Significant()}
		}
	}
	for _, u := range b.InDoubt {
		out.InDoubt = append(out.InDoubt, v.compared(u))
	}
	return out
}

func (v comparisonView) check(check comparison.Check) gen.ReferenceCheck {
	out := gen.ReferenceCheck{
		Number: check.Number, Began: wire.Instant(check.AtUS), RaceS: wire.Seconds(check.RaceUS), Done: check.Done,
		Against: wire.Word[gen.ReferenceCheckAgainst](check.Against), Slots: []gen.ReferenceSlot{}, Benches: []gen.CheckedBench{},
	}
	for _, s := range check.Slots {
		out.Slots = append(out.Slots, gen.ReferenceSlot{
			Slot: s.Slot, Bench: s.Bench, Number: v.club.Benches[day.BenchID(s.Bench)].Number,
			CarNumber: v.club.Cars.At(day.CarID(s.Car)).Number, Run: wire.Opt(string(s.Run)),
		})
	}
	for _, b := range check.Benches {
		shown := gen.CheckedBench{Bench: string(b.ID), Number: b.Number, Judged: b.Judged, Good: b.Good, Says: wire.ShowNotes(b.Says)}
		if check.Against != comparison.AgainstItself && b.Judged {
			off := math.Expm1(b.Off)
			shown.Off = &off
		}
		out.Benches = append(out.Benches, shown)
	}
	return out
}

func (v comparisonView) factorSet(set day.FactorSet) gen.FactorSet {
	return gen.FactorSet{
		Number: set.Number, Factors: v.factors(set.Factors), Runs: set.Runs, Fitted: wire.Instant(set.FitUS),
		Adopted: wire.Instant(set.AtUS), Withdrawn: set.Withdrawn,
	}
}

func (v comparisonView) factors(list []fairness.Adopted) []gen.BenchFactor {
	out := []gen.BenchFactor{}
	for _, f := range list {
		out = append(out, wire.ShowFactor(f, v.State.Benches[day.BenchID(f.Bench)].Number))
	}
	slices.SortFunc(out, func(a, b gen.BenchFactor) int { return cmp.Compare(a.Number, b.Number) })
	return out
}

// offer is what may be adopted now, or why not.
func (v comparisonView) offer(r *comparison.Report) gen.FactorOffer {
	offer, err := r.Offer(v.State)
	out := gen.FactorOffer{Factors: v.factors(offer.Factors)}
	if no, is := refusal.As(err); is {
		out.Not = &gen.Note{Code: string(no.Code), Says: no.Error()}
		return out
	}
	out.Offer = &offer.Code
	return out
}
