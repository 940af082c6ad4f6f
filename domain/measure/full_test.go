package measure

import (
	"errors"
	"math"
	"testing"
)

func TestFindFullSpeed(t *testing.T) {
	// A rise of the first order reaches 95 % after ln 20 = 2.996 time constants.
	rise := func(tau, from, fade float64) (times, speeds []float64) {
		for at := from; at < 30; at += 0.1 {
			times = append(times, at)
			speeds = append(speeds, 4*(1-math.Exp(-at/tau))*(1-fade*at))
		}
		return times, speeds
	}
	tests := []struct {
		name            string
		tau, from, fade float64
		spike           int // a sample that is made three times as high; 0 is none
		speed, at       float64
		err             error
	}{
		{"a rise", 0.8, 0.1, 0, 0, 4, 0.8 * math.Log(20), nil},
		{"a spike does not count", 0.8, 0.1, 0, 200, 4, 0.8 * math.Log(20), nil},
		{"a lonely spike in the rise is not the end of it", 0.8, 0.1, 0, 3, 4, 0.8 * math.Log(20), nil},
		{"already at full speed", 0.8, 8, 0, 0, 0, 0, ErrNoFit},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			times, speeds := rise(test.tau, test.from, test.fade)
			if test.spike > 0 {
				speeds[test.spike] *= 3
			}
			got, err := FindFullSpeed(times, speeds)
			if !errors.Is(err, test.err) || math.Abs(got.Speed-test.speed) > 0.01 || math.Abs(got.At-test.at) > 0.05 {
				t.Errorf("got %+v, %v; want speed %.3f at %.3f, %v", got, err, test.speed, test.at, test.err)
			}
		})
	}
	t.Run("of a fading battery it is the speed before it faded", func(t *testing.T) {
		times, speeds := rise(0.5, 0.1, 0.005)
		got, err := FindFullSpeed(times, speeds)
		if err != nil || got.Speed < 3.85 || got.Speed > 4 || got.At < 1 || got.At > 1.6 {
			t.Errorf("got %+v, %v", got, err)
		}
	})
	t.Run("too few samples", func(t *testing.T) {
		if _, err := FindFullSpeed([]float64{1, 2}, []float64{1, 2}); !errors.Is(err, ErrNoFit) {
			t.Error(err)
		}
	})
}
