package battery

import (
	"slices"

	"benchmeet/domain/refusal"
)

// Chemistry is what a cell is made of.
type Chemistry string

// The chemistries of size AA cells (IEC 60086 and IEC 61951-2).
const (
	Alkaline   Chemistry = "alkaline"             // LR6, primary
	ZincCarbon Chemistry = "zinc-carbon"          // R6, primary
	Lithium    Chemistry = "lithium"              // FR6, primary
	NiMH       Chemistry = "nickel-metal-hydride" // HR6
)

// Chemistries lists all that are known.
func Chemistries() []Chemistry { return []Chemistry{Alkaline, ZincCarbon, Lithium, NiMH} }

func known(c Chemistry) bool { return slices.Contains(Chemistries(), c) }

// Primary says whether cells of this kind are used once. Primary cells are never
// charged, and nothing that this program says advises it.
func (c Chemistry) Primary() bool { return c != NiMH }

// Span is a closed range in the unit of what it bounds.
type Span struct {
	Min int64 `json:"min"`
	Max int64 `json:"max"`
}

// Window is what a car class asks of a battery pack. All voltages are those of
// the whole pack, in mV.
type Window struct {
	Chemistry Chemistry `json:"chemistry"`
	// Cells in series, 1 to [MostCells].
	Cells int `json:"cells"`
	// Open bounds the open-circuit voltage, in mV.
	Open Span `json:"open_mv"`
	// Load bounds the voltage under load, in mV; nil where it is not asked for.
	// An open-circuit voltage alone tells neither charge nor chemistry for certain.
	Load *Span `json:"load_mv,omitempty"`
	// ResistanceMax is the highest internal resistance of the pack, in mΩ; 0 is no
	// limit, and it is looked at only where it was measured.
	ResistanceMax int64 `json:"resistance_max_mohm,omitempty"`
	// Temperature bounds that of the cells, in thousandths of a °C; nil where it is
	// not asked for. Warm cells read better.
	Temperature *Span `json:"temperature_mc,omitempty"`
	// ValidUS is how long a check counts, in µs; 0 is for the whole day.
	ValidUS int64 `json:"valid_us,omitempty"`
	// RestUS is how long a pack rests between two runs, in µs.
	RestUS int64 `json:"rest_us,omitempty"`
}

// MostCells is how many cells a pack has at most; a palm-sized car has two to
// four (common practice).
const MostCells = 20

// Bounds that no AA pack leaves, against slips of the pen.
const (
	mostMV = 1_000_000
	mostMC = 150_000
	mostUS = 48 * 3600 * 1_000_000
)

// Check refuses a window that cannot be.
func (w Window) Check() error {
	fits := func(s *Span, least, most int64) bool {
		return s == nil || least <= s.Min && s.Min < s.Max && s.Max <= most
	}
	switch {
	case !known(w.Chemistry), w.Cells < 1, w.Cells > MostCells,
		!fits(&w.Open, 0, mostMV), !fits(w.Load, 0, mostMV), !fits(w.Temperature, -mostMC, mostMC),
		w.ResistanceMax < 0, w.ValidUS < 0, w.ValidUS > mostUS, w.RestUS < 0, w.RestUS > mostUS:
		return refusal.New("window-order", "most", MostCells)
	}
	return nil
}

// FreshWindow proposes what fresh or freshly charged and rested cells of a kind
// show, for an organiser to change. Open-circuit bounds a cell: alkaline 1500 to
// 1650 mV (a manufacturer's datasheet: 1560 to 1650 initially), nickel-metal
// hydride 1250 to 1450 mV rested after a charge, zinc-carbon 1500 to 1730 mV,
// lithium 1700 to 1850 mV (the last three from memory). A check counts for two
// hours and a pack rests for five minutes (common practice).
func FreshWindow(c Chemistry, cells int) Window {
	perCell := map[Chemistry]Span{
		Alkaline: {1500, 1650}, ZincCarbon: {1500, 1730}, Lithium: {1700, 1850}, NiMH: {1250, 1450},
	}[c]
	n := int64(cells)
	return Window{
		Chemistry: c, Cells: cells, Open: Span{perCell.Min * n, perCell.Max * n},
		ValidUS: 2 * 3600 * 1_000_000, RestUS: 5 * 60 * 1_000_000,
	}
}
