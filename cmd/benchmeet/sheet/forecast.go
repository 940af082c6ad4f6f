package sheet

import (
	"errors"

	"benchmeet/domain/forecast"
)

// ForecastHelp shows the format of a day whose end is asked for.
const ForecastHelp = `
Plays a day many times and says when it likely ends, how likely that is too late, what holds it up, and what other
forms of competition would give the same children. Times are in seconds, from any hour on.

  {"opens": 0, "closes": 28800, "benches": 10, "changeover": 90, "failure_rate": 0.01, "rerun_rate": 0.05,
   "samples": 2000, "seed": 1,
   "divisions": [{"id": "J", "entries": 40, "car_sd": 0.04, "run_sd": 0.008,
                  "stages": [{"kind": "timed-rounds", "rounds": 3, "race": 60},
                             {"kind": "knockout", "entries": 16, "race": 60}]}]}

  opens, closes      the first heat may start, the keys go back
  benches            how many cars can run at once
  changeover         what lies between two heats of a bench, on average; changeover_spread (0.3) and day_spread
                     (0.1) are its relative standard deviations from heat to heat and from day to day
  failure_rate       part of the runs that give no result; rerun_rate: of those that are raced again by themselves
  rest, wait         between two runs of a car; between a round and the next one that depends on it (protest time)
  samples, seed      days played, 100 to 100000 (2000), and what they draw (1): the same file gives the same answer
  divisions          car_sd: relative standard deviation of the cars' true speeds; run_sd: of the runs of one car
  stages             kind: timed-rounds, points-rounds, swiss (rounds), knockout (third_place, plate, legs),
                     double-elimination (legs), round-robin (cycles), groups (groups, cycles, advance, next_best,
                     third_place), heats (advance, next_best, b_final); race: seconds; entries: how many go on into
                     it; lanes: most cars of a heat (as many as there are benches, two in duels); rule of timed
                     rounds: best or mean

The answer:

  finish             p10, p50, p90: the day ends before these in one, five and nine of ten days
  late_chance        how often it ends after closes
  bottleneck         "benches", or the division whose rounds wait for one another
  benches_used       part of the bench time until the finish that is used
  rounds             start and end of each round, and how often it is raced at all
  options            the day as planned and in other forms, on the same cars: finish_p50, late_chance, best_car_wins
                     (the truly quickest is first), rank_agreement (Kendall's tau of the final order and the true
                     speeds), runs_per_entry, runs_at_least, longest_wait (seconds between two races of the entry that waits
                     longest), advised_against

Swiss rounds are paired simply here: neighbours in points who have not met.
`

// ForecastInput is a day to be played.
type ForecastInput struct {
	Opens            float64            `json:"opens"`
	Closes           float64            `json:"closes"`
	Benches          int                `json:"benches"`
	ChangeOver       float64            `json:"changeover"`
	ChangeOverSpread *float64           `json:"changeover_spread"`
	DaySpread        *float64           `json:"day_spread"`
	FailureRate      float64            `json:"failure_rate"`
	RerunRate        float64            `json:"rerun_rate"`
	Rest             float64            `json:"rest"`
	Wait             float64            `json:"wait"`
	Samples          *int               `json:"samples"`
	Seed             *uint64            `json:"seed"`
	Divisions        []forecastDivision `json:"divisions"`
}

type forecastDivision struct {
	ID      string          `json:"id"`
	Entries int             `json:"entries"`
	CarSD   float64         `json:"car_sd"`
	RunSD   float64         `json:"run_sd"`
	Stages  []forecastStage `json:"stages"`
}

type forecastStage struct {
	Kind       forecast.Kind `json:"kind"`
	Race       float64       `json:"race"`
	Entries    int           `json:"entries"`
	Rounds     int           `json:"rounds"`
	Lanes      int           `json:"lanes"`
	Rule       forecast.Rule `json:"rule"`
	Groups     int           `json:"groups"`
	Advance    int           `json:"advance"`
	NextBest   int           `json:"next_best"`
	Cycles     int           `json:"cycles"`
	Legs       int           `json:"legs"`
	ThirdPlace bool          `json:"third_place"`
	Plate      bool          `json:"plate"`
	BFinal     bool          `json:"b_final"`
}

// ForecastOutput is what the day will likely be.
type ForecastOutput struct {
	Finish      forecastQuantiles `json:"finish"`
	LateChance  float64           `json:"late_chance"`
	Bottleneck  string            `json:"bottleneck"`
	BenchesUsed float64           `json:"benches_used"`
	Rounds      []forecastRound   `json:"rounds"`
	Options     []forecastOption  `json:"options"`
}

type forecastQuantiles struct {
	P10 float64 `json:"p10"`
	P50 float64 `json:"p50"`
	P90 float64 `json:"p90"`
}

type forecastRound struct {
	Division string            `json:"division"`
	Stage    int               `json:"stage"`
	Round    int               `json:"round"`
	Chance   float64           `json:"chance"`
	Start    forecastQuantiles `json:"start"`
	End      forecastQuantiles `json:"end"`
}

type forecastOption struct {
	Format         string  `json:"format"`
	FinishP50      float64 `json:"finish_p50"`
	LateChance     float64 `json:"late_chance"`
	BestCarWins    float64 `json:"best_car_wins"`
	RankAgreement  float64 `json:"rank_agreement"`
	RunsPerEntry   float64 `json:"runs_per_entry"`
	RunsAtLeast    int     `json:"runs_at_least"`
	LongestWait    float64 `json:"longest_wait"`
	AdvisedAgainst string  `json:"advised_against,omitempty"`
}

// Usual values where a file gives none: common practice of small halls, until a club
// knows its own.
const (
	usualSamples    = 2000
	usualHeatSpread = 0.3
	usualDaySpread  = 0.1
)

// Forecast plays a day. The answer is a ForecastOutput.
func Forecast(in ForecastInput) (any, error) {
	day := forecast.Day{
		Opens: in.Opens, Closes: in.Closes, Benches: in.Benches, ChangeOver: in.ChangeOver,
		HeatSpread: given(in.ChangeOverSpread, usualHeatSpread), DaySpread: given(in.DaySpread, usualDaySpread),
		FailureRate: in.FailureRate, RerunRate: in.RerunRate, Rest: in.Rest, Wait: in.Wait,
	}
	for _, d := range in.Divisions {
		division := forecast.Division{ID: d.ID, Entries: d.Entries, CarSD: d.CarSD, RunSD: d.RunSD}
		for _, s := range d.Stages {
			division.Stages = append(division.Stages, forecast.Stage(s))
		}
		day.Divisions = append(day.Divisions, division)
	}
	options, err := forecast.Options(day, given(in.Samples, usualSamples), given(in.Seed, 1))
	var no *forecast.Refusal
	if errors.As(err, &no) {
		return nil, Refuse("%w", no)
	}
	if err != nil {
		return nil, err
	}
	planned := options[0]
	out := ForecastOutput{
		Finish: forecastQuantiles(planned.Finish), LateChance: planned.LateChance,
		Bottleneck: planned.Bottleneck, BenchesUsed: planned.Used,
	}
	for _, r := range planned.Rounds {
		out.Rounds = append(out.Rounds, forecastRound{
			r.Division, r.Stage, r.Number, r.Chance, forecastQuantiles(r.Start), forecastQuantiles(r.End),
		})
	}
	for _, o := range options {
		out.Options = append(out.Options, forecastOption{
			o.Format, o.Finish.P50, o.LateChance, o.Fit.BestCarWins, o.Fit.RankAgreement, o.Fit.Runs, o.Fit.LeastRuns,
			o.Fit.LongestWait, o.AdvisedAgainst,
		})
	}
	return out, nil
}

// given is what a file says, or what is usual.
func given[V any](value *V, usual V) V {
	if value == nil {
		return usual
	}
	return *value
}
