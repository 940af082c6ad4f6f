package main

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/cobra"

	"benchmeet/cmd/benchmeet/sheet"
)

// benchesExample is the example in the help, as it would stand in a file.
func benchesExample(t *testing.T) string {
	t.Helper()
	from := strings.Index(sheet.BenchesHelp, "  bench,car")
	to := strings.Index(sheet.BenchesHelp, "\n\n  value")
	if from < 0 || to < from {
		t.Fatal("the help shows no example")
	}
	var lines []string
	for line := range strings.Lines(sheet.BenchesHelp[from : to+1]) {
		lines = append(lines, strings.TrimSpace(line))
	}
	return strings.Join(lines, "\n") + "\n"
}

func plainBenches() *cobra.Command {
	cmd := newBenchesCommand()
	if err := cmd.Flags().Set("plain", "true"); err != nil {
		panic(err)
	}
	return cmd
}

// decodeOutput reads what a computation printed.
func decodeOutput[T any](t *testing.T, cmd *cobra.Command, input string) T {
	t.Helper()
	out, err := compute(cmd, input)
	if err != nil {
		t.Fatal(err)
	}
	var got T
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	return got
}

func TestBenchesExampleOfHelp(t *testing.T) {
	got := decodeOutput[sheet.BenchesFitted](t, newBenchesCommand(), benchesExample(t))
	var verdicts []string
	product := 1.0
	for _, b := range got.Benches {
		verdicts = append(verdicts, b.Bench+" "+*b.Verdict)
		product *= *b.Factor
		if !(*b.Low < *b.Factor && *b.Factor < *b.High) || b.Runs != 3 {
			t.Errorf("%s: %g in %g to %g from %d runs", b.Bench, *b.Factor, *b.Low, *b.High, b.Runs)
		}
	}
	if diff := cmp.Diff([]string{"b1 reads high", "b2 agrees", "b3 agrees"}, verdicts); diff != "" {
		t.Errorf("verdicts (-want +got):\n%s", diff)
	}
	// Every car ran once on each bench, so a level is the mean of its logarithms.
	level := math.Cbrt(230.1 * 225.4 * 225.9)
	if got.Cars[0].Car != "A" || math.Abs(*got.Cars[0].Level-level) > 1e-6 {
		t.Errorf("car A: got %v, want %g", *got.Cars[0].Level, level)
	}
	if math.Abs(product-1) > 1e-8 || !got.Connected || !got.CorrectingHelps || got.Degrees != 2 ||
		len(got.Rounds) != 3 { // 9 runs less 3 cars, 2 benches and 2 rounds
		t.Errorf("got product %g, %+v", product, got)
	}
	if want := "Bench b1 reads 1.9 % high: for the same car it shows that much more than the middle bench."; got.Benches[0].Says != want {
		t.Errorf("got %q, want %q", got.Benches[0].Says, want)
	}
}

func TestBenchesNotConnected(t *testing.T) {
	out, err := compute(newBenchesCommand(), "bench,car,value\nb1,A,10\nb1,B,11\nb2,C,12\n")
	if err != nil {
		t.Fatal(err)
	}
	want := `{"benches": [` +
		`{"bench": "b1","runs": 2,"factor": null,"low": null,"high": null,"mandel_h": null,"mandel_k": null,"verdict": null,"says": "Bench b1 cannot be compared with all others yet: no cars tie them together."},` +
		`{"bench": "b2","runs": 1,"factor": null,"low": null,"high": null,"mandel_h": null,"mandel_k": null,"verdict": null,"says": "Bench b2 cannot be compared with all others yet: no cars tie them together."}],` +
		`"repeatability_sd": null,"reproducibility_sd": null,"between_sd": null,"degrees_of_freedom": -1,"connected": false,` +
		`"missing": ["No car has run on a bench of each of these two groups: b1; and b2. Run one car on a bench of each."],` +
		`"f": null,"p": null,"correcting_helps": false,"suspects": [],` +
		`"cars": [{"car": "A","level": null},{"car": "B","level": null},{"car": "C","level": null}]}`
	if diff := cmp.Diff(want, squeeze(out)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// The sulfur in coal of ISO 5725-2:1994 Annex B.1, level 1 (data and results from
// memory): s_r 0.015, s_R 0.026, m 0.690.
func TestBenchesPlain(t *testing.T) {
	values := [][]string{
		{"0.71", "0.71", "0.70", "0.71"},
		{"0.69", "0.67", "0.68"},
		{"0.66", "0.65", "0.69"},
		{"0.67", "0.65", "0.66"},
		{"0.70", "0.69", "0.66", "0.71", "0.69"},
		{"0.73", "0.74", "0.73"},
		{"0.71", "0.71", "0.69"},
		{"0.70", "0.65", "0.68"},
	}
	input := "value,bench,car\n"
	for i, bench := range values {
		for _, v := range bench {
			input += v + ",lab" + string(rune('1'+i)) + ",coal\n"
		}
	}
	got := decodeOutput[sheet.BenchesPlain](t, plainBenches(), input)
	figures := []struct {
		name      string
		got       *float64
		want, off float64
	}{
		{"mean", got.Mean, 0.690, 0.0005},
		{"s_r", got.Repeatability, 0.015116507, 1e-9},
		{"s_L", got.Between, 0.021599555, 1e-9},
		{"s_R", got.Reproducibility, 0.026363792, 1e-9},
		{"h of 6", got.Benches[5].MandelH, 1.8071284, 1e-7},
		{"k of 8", got.Benches[7].MandelK, 1.6738708, 1e-7},
		{"Cochran", got.Cochran.Value, 0.35023041, 1e-8},
		{"Cochran, 5 %", got.Cochran.Critical5, 0.5157, 1e-4},
		{"Grubbs", got.GrubbsHigh.Value, 1.8071284, 1e-7},
		{"double Grubbs", got.DoubleHigh.Value, 0.30159371, 1e-8},
		{"h, 1 %", got.Critical.H1, 2.0649, 1e-4},
	}
	for _, f := range figures {
		if f.got == nil || math.Abs(*f.got-f.want) > f.off {
			t.Errorf("%s: got %v, want %g", f.name, f.got, f.want)
		}
	}
	if got.E691 != nil {
		t.Error("E691 is given for unequal numbers of values")
	}
	if b := got.Benches[5]; b.Bench != "lab6" || *b.Verdict != "agrees" || b.Words.H != "straggler" {
		t.Errorf("got %+v", b)
	}
}

func TestBenchesRefuses(t *testing.T) {
	checkRefusals(t, newBenchesCommand, []refusalTest{
		{"empty", "", exitUsage, "line 1"},
		{"another header", "bench;car;value\n", exitUsage, "line 1"},
		{"a column is missing", "bench,car\n", exitUsage, "value is missing"},
		{"a column twice", "bench,car,value,car\n", exitUsage, "twice"},
		{"an unknown column", "bench,car,value,colour\n", exitUsage, `"colour"`},
		{"no runs", "bench,car,value\n", exitRefused, "too little to compare"},
		{"a field too few", "bench,car,value\nb1,A,1\nb1,A\n", exitUsage, "line 3"},
		{"a field too many", "bench,car,value\nb1,A,1,2\n", exitUsage, "line 2"},
		{"no bench", "bench,car,value\n,A,1\n", exitUsage, "line 2: bench is empty"},
		{"no car", "bench,car,value\nb1, ,1\n", exitUsage, "line 2: car is empty"},
		{"no number", "bench,car,value\nb1,A,fast\n", exitUsage, `line 2: value "fast"`},
		{"a comma in the number", "bench,car,value\nb1,A,\"1,5\"\n", exitUsage, `line 2: value "1,5"`},
		{"not a number", "bench,car,value\nb1,A,NaN\n", exitUsage, "line 2"},
		{"another base", "bench,car,value\nb1,A,0x10\n", exitUsage, "line 2"},
		{"zero", "bench,car,value\nb1,A,1\n\nb2,A,0\n", exitRefused, "line 4: value 0 of car A on bench b2"},
		{"below zero", "bench,car,value\nb1,A,-3\n", exitRefused, "line 2"},
		{"round zero", "bench,car,value,round\nb1,A,1,0\n", exitUsage, "line 2: round"},
		{"no round", "bench,car,value,round\nb1,A,1,\n", exitUsage, "line 2: round"},
		{"a quote in the middle", "bench,car,value\nb\"1,A,1\n", exitUsage, "line 2: not CSV"},
	})
	checkRefusals(t, plainBenches, []refusalTest{
		{"one bench", "bench,car,value\nb1,A,1\nb1,A,2\n", exitRefused, "too little to compare"},
		{"no repeats", "bench,car,value\nb1,A,1\nb2,A,2\n", exitRefused, "too little to compare"},
	})
}

// A spreadsheet's byte order mark, its line ends and spaces do no harm.
func TestBenchesReadsSpreadsheets(t *testing.T) {
	got := decodeOutput[sheet.BenchesFitted](
		t, newBenchesCommand(), "\ufeffround,bench,car,value\r\n1,b1,A,10\r\n1, b2 ,A,10\r\n2,b1,A,10.5\r\n",
	)
	if len(got.Benches) != 2 || got.Benches[1].Bench != "b2" || !got.Connected {
		t.Errorf("got %+v", got)
	}
}

// Where all cars went from bench to bench in one order, there is no factor, and the words say why.
func TestBenchesThatGoWithTheirRounds(t *testing.T) {
	got := decodeOutput[sheet.BenchesFitted](
		t, newBenchesCommand(), "bench,car,value,round\nb1,A,230,1\nb2,A,227,2\nb1,B,240,1\nb2,B,236,2\nb1,C,220,1\nb2,C,217,2\n",
	)
	if got.Connected || got.Benches[0].Factor != nil || len(got.Missing) != 1 ||
		!strings.Contains(got.Missing[0], "cannot be told from what all cars did from round to round: b1; and b2") {
		t.Errorf("got %+v", got)
	}
}
