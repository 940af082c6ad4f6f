package nodetest

import "math/rand/v2"

// Hall is a made-up run: the box, and when the server asks for the run.
type Hall struct {
	Box
	Name   string  // of what happens
	Orders float64 // when the server asks for the run, s
	Race   float64 // s
}

// Made draws the run of a seed. The kinds take turns.
func Made(seed uint64) Hall {
	rng := rand.New(rand.NewPCG(seed, 0xb0c5))
	h := Hall{Orders: 2 + rng.Float64(), Race: 5 + 4*rng.Float64()}
	h.Rng = rng
	h.Turns = 10 + 160*rng.Float64()
	h.Runs = h.Orders + h.Race + 4
	h.Hz, h.Joined = 1e6, 1
	h.PPM = []float64{0, 50, -50, 4000, -5000}[rng.IntN(5)]
	h.First = uint64(rng.IntN(100_000_000))
	if rng.IntN(2) == 0 {
		h.StartAt = h.Orders + 0.1 + 0.5*rng.Float64()
	}
	h.Summed = seed%2 == 0
	if h.Summed {
		h.Hz = []float64{250_000, 1e6, 2e6, 16e6, 11_059_200}[rng.IntN(5)]
		h.Bits = []int{32, 32, 24, 48, 64}[rng.IntN(5)]
		h.Joined = 1 + rng.IntN(6)
		if h.Bits == 24 {
			h.Hz = 1e6 // 16.8 s a wrap, the first not before there is a line
			h.First %= 10_000_000
		}
	} else if rng.IntN(3) > 0 {
		h.Bits = 32 // else it sends them all
	}
	switch seed / 2 % 8 {
	case 0:
		h.Name = "clean"
	case 1:
		h.Name = "wrap"
		if h.Bits != 0 && h.Bits < 64 {
			into := 0.3 + h.Race*rng.Float64()
			h.First = 1<<h.Bits - uint64((h.Orders+into)*h.Hz)
		} else {
			h.First = 1<<32 - uint64((h.Orders+1)*h.Hz) // no wrap: it just goes on
		}
	case 2:
		h.Name, h.Garbled = "garbled", 0.02
	case 3:
		h.Name, h.Cut = "cut", 0.02
	case 4:
		h.Name, h.Merged = "joined", 0.02
	case 5:
		h.Name, h.Gone = "lost", 0.02
	case 6:
		h.Name = "cable"
		out := h.Orders + 0.8 + (h.Race-3)*rng.Float64()
		h.CableOut = [][2]float64{{out, out + 0.2 + rng.Float64()}}
	case 7:
		h.Name = "restart"
		off := h.Orders + 0.8 + (h.Race-3.5)*rng.Float64()
		h.Restarts = [][2]float64{{off, off + 0.05 + rng.Float64()}}
		if rng.IntN(2) == 0 {
			h.Name = "restart on a bad wire"
			h.Garbled, h.Gone, h.Merged, h.Cut = 0.005, 0.005, 0.005, 0.005
		}
	}
	if h.Garbled+h.Cut+h.Merged+h.Gone > 0 {
		h.SpoilFrom, h.SpoilTo = h.Orders, h.Orders+h.Race-0.5
	}
	if len(h.Restarts) > 0 && h.StartAt > h.Restarts[0][0] {
		h.StartAt = 0
	}
	return h
}
