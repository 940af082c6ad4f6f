package sheet

import (
	"math"
	"slices"
	"strconv"

	"benchmeet/domain/fairness"
)

// BenchesHelp shows the format of results on benches.
const BenchesHelp = `
Compares benches by results of the same cars on them. Reads CSV with a header:

  bench,car,value,round
  b1,A,230.1,1
  b2,A,225.4,2
  b3,A,225.9,3
  b1,B,241.3,2
  b2,B,236.0,3
  b3,B,236.8,1
  b1,C,219.0,3
  b2,C,214.9,1
  b3,C,214.6,2

  value       what the car did there, above zero, in any one unit: distance, laps or speed
  round       optional: a whole number from 1, the same for all runs that were made side by side

Fitted is ln(value) = car + bench + round + noise, in whatever way cars met benches, as long as cars tie all benches
together; where they do not, the factors are null and "missing" says what to run. The rounds take out what all cars
lose or gain from one to the next, as batteries fade; "rounds" says how much. Where benches go with their rounds,
wholly or in part (every car was on b1 in round 1 and on b2 in round 2), nobody can tell one from the other: the
factors are null then too, and "missing" says which benches. Leave the column out if it only numbers the runs. For
every bench comes

  factor      what it reads over the geometric mean of all benches; a result divided by it is comparable
  low, high   its 95 % interval
  mandel_h    its level in standard deviations of the benches' levels
  mandel_k    its scatter over the pooled one
  verdict     agrees, reads high, reads low or noisy; null where there is too little to judge by. High and low are
              meant against the middle bench, as one bench that is far off moves the mean of all
  drift       the trend of its results from round to round, relative, with its interval

and for all of them the relative standard deviations repeatability_sd (one car, one bench), reproducibility_sd
(one car, different benches) and between_sd (benches alone), correcting_helps (whether the benches differ by more
than chance), runs that do not fit in, and every car's level.

With --plain the values are taken as they are, one way by bench: ISO 5725-2 mean, repeatability s_r, between_sd
s_L, reproducibility s_R, Mandel's h and k, Cochran and Grubbs with their critical values, in the unit of the
values; the convention of ASTM E691 stands beside them. That is right where every bench measured the same thing.
Nothing is left out by itself: a person rules.
`

type benchRow struct {
	Bench   string           `json:"bench"`
	Runs    int              `json:"runs"`
	Mean    *float64         `json:"mean,omitempty"`
	SD      *float64         `json:"sd,omitempty"`
	Factor  *float64         `json:"factor"`
	Low     *float64         `json:"low"`
	High    *float64         `json:"high"`
	MandelH *float64         `json:"mandel_h"`
	MandelK *float64         `json:"mandel_k"`
	Verdict *string          `json:"verdict"`
	Says    string           `json:"says"`
	Drift   *benchDrift      `json:"drift,omitempty"`
	Words   *benchPlainWords `json:"words,omitempty"`
}

type benchDrift struct {
	PerRound *float64 `json:"per_round"`
	Low      *float64 `json:"low"`
	High     *float64 `json:"high"`
}

type benchPlainWords struct {
	H fairness.Word `json:"h,omitempty"`
	K fairness.Word `json:"k,omitempty"`
}

type benchCar struct {
	Car   string   `json:"car"`
	Level *float64 `json:"level"`
}

// benchRound is what cars did in a round over the mean of the rounds.
type benchRound struct {
	Round int      `json:"round"`
	Runs  int      `json:"runs"`
	Level *float64 `json:"level"`
}

type benchSuspect struct {
	Line  int      `json:"line"`
	Bench string   `json:"bench"`
	Car   string   `json:"car"`
	Off   *float64 `json:"off"`
	T     *float64 `json:"t"`
}

// BenchesFitted is printed without --plain.
type BenchesFitted struct {
	Benches         []benchRow     `json:"benches"`
	Repeatability   *float64       `json:"repeatability_sd"`
	Reproducibility *float64       `json:"reproducibility_sd"`
	Between         *float64       `json:"between_sd"`
	Degrees         int            `json:"degrees_of_freedom"`
	Connected       bool           `json:"connected"`
	Missing         []string       `json:"missing,omitempty"`
	F               *float64       `json:"f"`
	P               *float64       `json:"p"`
	CorrectingHelps bool           `json:"correcting_helps"`
	Suspects        []benchSuspect `json:"suspects"`
	Rounds          []benchRound   `json:"rounds,omitempty"`
	Cars            []benchCar     `json:"cars"`
}

// BenchesPlain is printed with --plain.
type BenchesPlain struct {
	Benches         []benchRow     `json:"benches"`
	Mean            *float64       `json:"mean"`
	MeanOfMeans     *float64       `json:"mean_of_means"`
	Repeatability   *float64       `json:"repeatability_sd"`
	Reproducibility *float64       `json:"reproducibility_sd"`
	Between         *float64       `json:"between_sd"`
	RepeatLimit     *float64       `json:"repeatability_limit"`
	ReproLimit      *float64       `json:"reproducibility_limit"`
	F               *float64       `json:"f"`
	Connected       bool           `json:"connected"`
	Cochran         *benchFinding  `json:"cochran"`
	GrubbsLow       *benchFinding  `json:"grubbs_low"`
	GrubbsHigh      *benchFinding  `json:"grubbs_high"`
	DoubleLow       *benchFinding  `json:"double_grubbs_low"`
	DoubleHigh      *benchFinding  `json:"double_grubbs_high"`
	E691            *benchE691     `json:"e691"`
	Critical        benchCriticals `json:"mandel_critical"`
}

type benchFinding struct {
	Benches   []string      `json:"benches"`
	Value     *float64      `json:"value"`
	Critical5 *float64      `json:"critical_5"`
	Critical1 *float64      `json:"critical_1"`
	Word      fairness.Word `json:"word,omitempty"`
}

type benchE691 struct {
	SDOfMeans       *float64 `json:"sd_of_means"`
	Reproducibility *float64 `json:"reproducibility_sd"`
}

type benchCriticals struct {
	H5 *float64 `json:"h_5"`
	H1 *float64 `json:"h_1"`
	K5 *float64 `json:"k_5"`
	K1 *float64 `json:"k_1"`
}

// CompareBenches compares the benches of a table, or with plain takes its values as
// they are, one way by bench. The answer is a BenchesFitted or a BenchesPlain; a
// table that holds too little is refused by the domain.
func CompareBenches(table BenchTable, plain bool) (any, error) {
	fit, err := fairness.FitBenches(table.runs, fairness.Rounds)
	switch {
	case err != nil:
		return nil, err
	case plain:
		return showPlain(table, fit.Connected())
	}
	return showFit(table, fit), nil
}

func showFit(table BenchTable, f *fairness.Fit) BenchesFitted {
	out := BenchesFitted{
		Benches: []benchRow{}, Suspects: []benchSuspect{}, Cars: []benchCar{},
		Repeatability: figure(f.Repeatability), Reproducibility: figure(f.Reproducibility), Between: figure(f.Between),
		Degrees: f.Degrees, Connected: f.Connected(), F: figure(f.FBenches), P: figure(f.PBenches), CorrectingHelps: f.Worthwhile(),
	}
	for _, n := range f.Missing {
		out.Missing = append(out.Missing, n.Says())
	}
	for _, b := range f.Benches {
		row := benchRow{
			Bench: b.Name, Runs: b.Runs, Factor: figure(b.Factor), Low: figure(b.Low), High: figure(b.High),
			MandelH: figure(b.H), MandelK: figure(b.K), Verdict: verdict(b.Verdict), Says: fairness.Join(b.Says),
		}
		if d := b.Drift; d != nil {
			row.Drift = &benchDrift{PerRound: figure(d.Slope), Low: figure(d.Low), High: figure(d.High)}
		}
		out.Benches = append(out.Benches, row)
	}
	for _, s := range f.Suspects {
		r := table.runs[s.Run]
		out.Suspects = append(out.Suspects, benchSuspect{
			Line: table.lines[s.Run], Bench: r.Bench, Car: r.Car, Off: figure(s.Off), T: figure(s.T),
		})
	}
	for _, r := range f.Rounds {
		number, _ := strconv.Atoi(r.Name) // written from a number
		out.Rounds = append(out.Rounds, benchRound{Round: number, Runs: r.Runs, Level: figure(r.Level)})
	}
	slices.SortFunc(out.Rounds, func(a, b benchRound) int { return a.Round - b.Round })
	for _, car := range f.CarNames() {
		out.Cars = append(out.Cars, benchCar{Car: car, Level: figure(f.Level(car))})
	}
	return out
}

func showPlain(table BenchTable, connected bool) (any, error) {
	l, err := fairness.LevelOf(table.groups())
	if err != nil {
		return nil, err
	}
	low, high := l.Grubbs()
	doubleLow, doubleHigh := l.DoubleGrubbs()
	h5, h1, k5, k1 := l.MandelCritical()
	out := BenchesPlain{
		Mean: figure(l.Mean), MeanOfMeans: figure(l.MeanOfMeans), Connected: connected, F: figure(l.F),
		Repeatability: figure(l.Repeatability), Reproducibility: figure(l.Reproducibility), Between: figure(l.Between),
		RepeatLimit: figure(fairness.LimitFactor * l.Repeatability), ReproLimit: figure(fairness.LimitFactor * l.Reproducibility),
		Cochran: finding(l.Cochran()), GrubbsLow: finding(low), GrubbsHigh: finding(high),
		DoubleLow: finding(doubleLow), DoubleHigh: finding(doubleHigh),
		Critical: benchCriticals{H5: figure(h5), H1: figure(h1), K5: figure(k5), K1: figure(k1)},
	}
	if sd, reproducibility, equal := l.E691(); equal {
		out.E691 = &benchE691{SDOfMeans: figure(sd), Reproducibility: figure(reproducibility)}
	}
	rows := l.Mandel()
	for i, j := range l.Judge() {
		c := l.Cells[i]
		out.Benches = append(out.Benches, benchRow{
			Bench: c.Name, Runs: c.N, Mean: figure(c.Mean), SD: figure(c.SD), MandelH: figure(rows[i].H), MandelK: figure(rows[i].K),
			Verdict: verdict(j.Verdict), Says: fairness.Join(j.Says), Words: &benchPlainWords{H: rows[i].WordH, K: rows[i].WordK},
		})
	}
	return out, nil
}

// figure rounds to nine digits that count, which every platform agrees on; what
// is no number is null.
func figure(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 9, 64), 64)
	if err != nil {
		return nil
	}
	return &rounded
}

func verdict(v fairness.Verdict) *string {
	if v == "" {
		return nil
	}
	text := string(v)
	return &text
}

func finding(f fairness.Finding) *benchFinding {
	if f.Who == nil {
		return nil
	}
	return &benchFinding{
		Benches: f.Who, Value: figure(f.Value), Critical5: figure(f.Critical5), Critical1: figure(f.Critical1), Word: f.Word,
	}
}
