package measure

import (
	"errors"
	"math"
	"testing"

	"benchmeet/domain/simulate"
)

// figure is a number that must come out.
type figure struct {
	name      string
	got, want float64
}

func checkFigures(t *testing.T, relative float64, figures []figure) {
	t.Helper()
	for _, f := range figures {
		if !closeTo(f.got, f.want, relative) {
			t.Errorf("%s is %.12g, want %.12g", f.name, f.got, f.want)
		}
	}
}

func TestTextbookFigures(t *testing.T) {
	t.Run("disk", func(t *testing.T) {
		// OpenStax College Physics, section 10.3, worked example (figures from
		// memory, recomputed): a solid disk of 50 kg and 1.5 m, pushed with 250 N;
		// then with a child of 18 kg at 1.25 m.
		inertia := SolidCylinder(50, 1.5)
		child := inertia + Tube(18, 1.25, 1.25)
		checkFigures(t, 1e-9, []figure{
			{"inertia", inertia, 56.25},
			{"acceleration", 250 * 1.5 / inertia, 6.66666666667},
			{"with the child", child, 84.375},
			{"acceleration with the child", 250 * 1.5 / child, 4.44444444444},
		})
	})
	t.Run("grindstone", func(t *testing.T) {
		// OpenStax College Physics, section 10.4, worked example (from memory,
		// recomputed): 85 kg, 0.32 m, 200 N over one radian.
		inertia := SolidCylinder(85, 0.32)
		omega := math.Sqrt(2 * (200 * 0.32) / inertia)
		checkFigures(t, 1e-9, []figure{
			{"inertia", inertia, 4.352},
			{"speed", omega, 5.42326144547},
			{"energy", Energy(inertia, omega), 64},
		})
	})
	t.Run("roller", func(t *testing.T) {
		// Solid aluminium, 30 mm by 60 mm, from rest to 8000 rpm in 2 s; computed
		// from I = m r²/2 and P = I alpha omega.
		mass := 2700 * math.Pi * 0.015 * 0.015 * 0.06
		inertia := SolidCylinder(mass, 0.015)
		omega := RadPerSecond(8000)
		checkFigures(t, 1e-9, []figure{
			{"mass", mass, 0.114511052223},
			{"inertia", inertia, 1.28824933751e-05},
			{"speed", omega, 837.758040957},
			{"power at the end", Power(inertia, omega/2, omega), 4.52071513999},
			{"energy", Energy(inertia, omega), 4.52071513999},
			{"equivalent mass", EquivalentMass(inertia, 0.015), 0.0572555261117},
		})
	})
	t.Run("gears", func(t *testing.T) {
		// Motor 14,000 rpm, 3.5 to 1, wheel of 26 mm; computed from axle = motor/ratio
		// and v = pi D n/60.
		axle := AxleRPM(14_000, 3.5)
		checkFigures(t, 1e-9, []figure{
			{"axle", axle, 4000},
			{"speed", SurfaceSpeed(26, axle), 5.44542726622},
			{"roller of 30 mm", DrivenRPM(axle, 26, 30), 3466.66666667},
		})
	})
	t.Run("units", func(t *testing.T) {
		// Exact relations of the SI.
		checkFigures(t, 1e-12, []figure{
			{"1 rpm", RadPerSecond(1), 0.10471975511965977},
			{"10,000 rpm on 24 mm", SurfaceSpeed(24, 10_000), 12.566370614359172},
			{"8000 rpm on 30 mm", SurfaceSpeed(30, 8000), 12.566370614359172},
			{"12,000 rpm on 31 mm", SurfaceSpeed(31, 12_000), 19.4778744522567},
		})
	})
}

// TestRacesAtConstantSpeed computes distance and laps from d = turns times
// circumference.
func TestRacesAtConstantSpeed(t *testing.T) {
	tests := []struct {
		name             string
		rollerMM         float64
		periodUS, lengUS int64
		lapM, distanceM  float64
		laps             int64
	}{
		{"180 s at 8000 rpm on 30 mm", 30, 7500, 180_000_000, 20, 2261.94671058, 113},
		{"60 s at 6000 rpm on 24 mm", 24, 10_000, 60_000_000, 15.5, 452.389342117, 29},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var stamps []int64
			for at := int64(0); at <= tt.lengUS; at += tt.periodUS {
				stamps = append(stamps, at)
			}
			m := measured(t, Setup{Bench: Bench{CircumferenceMM: math.Pi * tt.rollerMM}, Race: Race{LapM: tt.lapM}}, stamps)
			if !closeTo(m.DistanceM, tt.distanceM, 1e-9) || m.Laps != tt.laps {
				t.Errorf("%v m, %d laps; want %v and %d", m.DistanceM, m.Laps, tt.distanceM, tt.laps)
			}
		})
	}
}

func TestCoastDown(t *testing.T) {
	// The form f0 + f1 v + f2 v² of UN GTR No. 15, annex 4 (from memory); times
	// computed from its closed-form integral for 0.15 kg.
	var speeds, forces []float64
	for i, f := range []float64{0.08, 0.0846, 0.0904, 0.0974, 0.1056, 0.115, 0.1256, 0.1374, 0.1504, 0.1646, 0.18, 0.1966, 0.2144} {
		speeds, forces = append(speeds, float64(i)), append(forces, f)
	}
	d, err := FitDrag(speeds, forces)
	if err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 1e-9, []figure{
		{"a", d.A, 0.08},
		{"b", d.B, 0.004},
		{"c", d.C, 0.0006},
		{"time to stop", d.CoastTime(0.15, 12, 0), 14.7725938659},
		{"time to half", d.CoastTime(0.15, 12, 6), 5.53972127797},
		{"constant force", Drag{A: 0.1}.CoastTime(0.2, 3, 1), 4},
		{"force with speed", Drag{A: 0.1, B: 0.1}.CoastTime(0.1, 3, 0), math.Log(4)},
		{"air alone", Drag{C: 0.1}.CoastTime(0.1, 2, 1), 0.5},
		{"real roots", Drag{A: 0.1, B: 0.3, C: 0.1}.CoastTime(0.1, 1, 0), simpson(Drag{A: 0.1, B: 0.3, C: 0.1}, 0.1, 1)},
	})
	if _, err := FitDrag([]float64{1, 1, 1}, []float64{1, 1, 1}); !errors.Is(err, ErrNoFit) {
		t.Errorf("one speed three times: %v, want ErrNoFit", err)
	}

	t.Run("from speeds over time", func(t *testing.T) {
		var times, v []float64
		for at, speed := 0.0, 12.0; speed > 1; at += 0.001 {
			if len(times)*100 <= int(at*1000) {
				times, v = append(times, at), append(v, speed)
			}
			speed -= 0.001 * d.Force(speed-0.0005*d.Force(speed)/0.15) / 0.15
		}
		got, err := FitCoastDown(0.15, times, v)
		if err != nil {
			t.Fatal(err)
		}
		checkFigures(t, 0.01, []figure{{"a", got.A, d.A}, {"b", got.B, d.B}, {"c", got.C, d.C}})
	})
}

// simpson integrates mass/force from 0 to v, the slow way.
func simpson(d Drag, mass, v float64) float64 {
	const n = 1000
	sum := 0.0
	for i := 0; i <= n; i++ {
		w := 2.0 + 2*float64(i%2)
		if i == 0 || i == n {
			w = 1
		}
		sum += w * mass / d.Force(v*float64(i)/n)
	}
	return sum * v / n / 3
}

// TestSpinUpOfASimulatedRun fits the rise of a run that was measured.
func TestSpinUpOfASimulatedRun(t *testing.T) {
	p := simulate.Usual(3, 9000, 2)
	p.TauS, p.ReactionS, p.SagFast, p.SagPerS = 0.5, 0.2, 0, 0
	samples, err := Curve(Setup{Bench: Bench{CircumferenceMM: nominalMM}}, simulate.Run(p).Stamps, 20_000)
	if err != nil {
		t.Fatal(err)
	}
	var times, rpm []float64
	for _, s := range samples {
		times, rpm = append(times, float64(s.AtUS-p.StartUS)/1e6), append(rpm, s.RPM)
	}
	got, err := FitSpinUp(times, rpm)
	if err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 0.03, []figure{{"top", got.Top, 9000}, {"tau", got.Tau, 0.5}})
	if math.Abs(got.Begin-0.2) > 0.02 {
		t.Errorf("begin %v s, want 0.2", got.Begin)
	}
	if _, err := FitSpinUp([]float64{0, 1, 2, 3}, []float64{4, 3, 2, 1}); !errors.Is(err, ErrNoFit) {
		t.Errorf("a fall gave %v, want ErrNoFit", err)
	}
}

// TestReciprocalCounting shows why speed is taken over whole turns and not by
// counting in a gate: Instrumentation Reference Book, 3rd ed. 2003, digital
// frequency counter, and the formulas there.
func TestReciprocalCounting(t *testing.T) {
	tests := []struct {
		name               string
		hz, clockHz        float64
		single, reciprocal float64
		periods            int
	}{
		{"8000 rpm, 1 MHz", 8000.0 / 60, 1e6, 0.000133333333333, 1.00250626566e-06, 133},
		{"10,000 rpm, 1 kHz", 10_000.0 / 60, 1000, 0.166666666667, 0.00100401606426, 166},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			single, reciprocal, periods := Resolution(tt.hz, 1, tt.clockHz)
			if periods != tt.periods {
				t.Errorf("%d periods, want %d", periods, tt.periods)
			}
			checkFigures(t, 1e-9, []figure{{"one period", single, tt.single}, {"many periods", reciprocal, tt.reciprocal}})
		})
	}
}
