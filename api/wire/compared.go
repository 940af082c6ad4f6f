package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/quicker"
	"benchmeet/domain/workshop"
)

// ShowCompared shows what a comparison says, without its runs and bench.
func ShowCompared(r quicker.Report) gen.CarCompared {
	out := gen.CarCompared{
		From: r.From, To: r.To, Parts: ShowParts(r.Parts), Unfair: showUnfair(r.Unfair), RaceS: Opt(Seconds(r.RaceUS)),
		Announced: r.Announced, AnnouncedAt: OptInstant(r.Plan.AtUS), Fittings: r.Plan.Fittings, RunsAFitting: r.Plan.RunsAFitting,
		Order: append([]int{}, r.Order...), OrderKept: r.OrderKept, Runs: []gen.LifeRun{}, Waiting: r.Waiting,
		Effects: []gen.ComparedEffect{}, PooledSd: Opt(r.Before.SD), PooledDegrees: Opt(r.Before.Degrees), Others: r.Others,
	}
	for _, e := range r.Effects {
		out.Effects = append(out.Effects, showEffect(e))
	}
	if r.Next != (quicker.Next{}) {
		out.Next = &gen.NextFitting{State: r.Next.State, Runs: r.Next.Runs, Refit: r.Next.Refit}
	}
	return out
}

func showUnfair(list []quicker.Unfair) []gen.UnfairWhy {
	out := []gen.UnfairWhy{}
	for _, why := range list {
		out = append(out, gen.UnfairWhy(why))
	}
	return out
}

// ShowAnswer shows what a comparison came to, in short.
func ShowAnswer(r quicker.Report) gen.SessionAnswer {
	out := gen.SessionAnswer{From: r.From, To: r.To, Unfair: showUnfair(r.Unfair)}
	if len(r.Effects) > 0 {
		d := r.Effects[0]
		out.Verdict = OptWord[gen.SessionAnswerVerdict](d.Verdict)
		out.Change, out.Low, out.High = bounded(d.Change), bounded(d.Low), bounded(d.High)
	}
	return out
}

func showEffect(e quicker.Compared) gen.ComparedEffect {
	return gen.ComparedEffect{
		Effect: Word[gen.ComparedEffectEffect](e.Effect), Verdict: Word[gen.ComparedEffectVerdict](e.Verdict),
		Change: bounded(e.Change), Low: bounded(e.Low), High: bounded(e.High), Drift: bounded(e.Drift),
		Scatter: e.Scatter.SD, Degrees: e.Scatter.Degrees,
		Compared: e.Fittings, Left: e.Left, AsFitted: e.AsFitted, Efficiency: e.Efficiency, JointP: e.Joint, Told: e.Told,
		Missing: e.Missing,
	}
}

// mostChange is the largest change that is shown: an interval that goes on beyond it says
// nothing, and may have no end.
const mostChange = 1000

func bounded(v float64) float64 { return min(v, mostChange) }

// ShowComparisonPlan shows an announced comparison.
func ShowComparisonPlan(p workshop.Plan) gen.ComparisonPlan {
	return gen.ComparisonPlan{From: p.From, To: p.To, Fittings: p.Fittings, RunsAFitting: p.RunsAFitting, At: Instant(p.AtUS)}
}
