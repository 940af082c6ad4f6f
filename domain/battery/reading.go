package battery

import (
	"fmt"

	"benchmeet/domain/refusal"
)

// Reading is what was measured of a pack at the battery table.
type Reading struct {
	// AtUS is when, in µs since 1970.
	AtUS int64 `json:"at_us"`
	// Chemistry and Cells are read from the cells.
	Chemistry Chemistry `json:"chemistry"`
	Cells     int       `json:"cells"`
	// OpenMV is the open-circuit voltage of the pack after a rest, in mV.
	OpenMV int64 `json:"open_mv"`
	// LoadMV is that under the load of the club's tester, in mV; nil where it was
	// not measured.
	LoadMV *int64 `json:"load_mv,omitempty"`
	// ResistanceMOhm is the internal resistance of the pack, in mΩ; nil where it was
	// not measured. See [TwoLoads].
	ResistanceMOhm *int64 `json:"resistance_mohm,omitempty"`
	// TemperatureMC is that of the cells, in thousandths of a °C; nil where it was
	// not measured.
	TemperatureMC *int64 `json:"temperature_mc,omitempty"`
	// Hurt is a pack that is hot, swollen, leaking or damaged.
	Hurt bool `json:"hurt,omitempty"`
}

// Judge returns every reason why the window refuses the pack, in the order in
// which an inspector looks; none means that it may race. A hurt pack gets that
// reason alone: nobody measures it again.
func (w Window) Judge(r Reading) []*refusal.Refusal {
	if r.Hurt {
		return []*refusal.Refusal{refusal.New("pack-hurt")}
	}
	var no []*refusal.Refusal
	add := func(r *refusal.Refusal) { no = append(no, r) }
	if r.Chemistry != w.Chemistry {
		add(refusal.New("pack-chemistry", "given", r.Chemistry, "wanted", w.Chemistry))
	}
	if r.Cells != w.Cells {
		add(refusal.New("pack-cells", "given", r.Cells, "wanted", w.Cells))
	}
	switch {
	case r.OpenMV < w.Open.Min:
		add(refusal.New("pack-open-low", "given", volts(r.OpenMV), "least", volts(w.Open.Min)))
	case r.OpenMV > w.Open.Max:
		add(refusal.New("pack-open-high", "given", volts(r.OpenMV), "most", volts(w.Open.Max)))
	}
	no = append(no, w.judgeLoad(r)...)
	// Looked at only where it was measured, unlike the temperature: where the window has limits
	// of that, it must be measured.
	switch r := r.ResistanceMOhm; {
	case r != nil && w.ResistanceMax > 0 && *r > w.ResistanceMax:
		add(refusal.New("pack-resistance", "given", *r, "most", w.ResistanceMax))
	}
	switch t := r.TemperatureMC; {
	case w.Temperature == nil:
	case t == nil:
		add(refusal.New("pack-degrees"))
	case *t < w.Temperature.Min:
		add(refusal.New("pack-cold", "given", degrees(*t), "least", degrees(w.Temperature.Min)))
	case *t > w.Temperature.Max:
		add(refusal.New("pack-warm", "given", degrees(*t), "most", degrees(w.Temperature.Max)))
	}
	return no
}

func (w Window) judgeLoad(r Reading) []*refusal.Refusal {
	switch {
	case r.LoadMV != nil && *r.LoadMV > r.OpenMV:
		return []*refusal.Refusal{refusal.New("pack-load-rises")}
	case w.Load == nil:
		return nil
	case r.LoadMV == nil:
		return []*refusal.Refusal{refusal.New("pack-load-asked")}
	case *r.LoadMV < w.Load.Min:
		return []*refusal.Refusal{refusal.New("pack-load-low", "given", volts(*r.LoadMV), "least", volts(w.Load.Min))}
	case *r.LoadMV > w.Load.Max:
		return []*refusal.Refusal{refusal.New("pack-load-high", "given", volts(*r.LoadMV), "most", volts(w.Load.Max))}
	}
	return nil
}

// Check refuses a reading that cannot be, as a slip of the pen gives one.
func (r Reading) Check() error {
	within := func(v *int64, least, most int64) bool { return v == nil || *v >= least && *v <= most }
	if !known(r.Chemistry) || r.Cells < 1 || r.Cells > MostCells || !within(&r.OpenMV, 0, mostMV) ||
		!within(r.LoadMV, 0, mostMV) || !within(r.ResistanceMOhm, 0, mostMV) || !within(r.TemperatureMC, -mostMC, mostMC) {
		return refusal.New("reading-range", "most", MostCells)
	}
	return nil
}

// volts writes mV as a meter shows V: two digits, a third where there is one, so
// that a value just below a limit never reads like the limit.
func volts(mv int64) string {
	if mv%10 != 0 {
		return fmt.Sprintf("%d.%03d", mv/1000, mv%1000)
	}
	return fmt.Sprintf("%d.%02d", mv/1000, mv%1000/10)
}

// degrees writes thousandths of a °C to a tenth, as a thermometer shows them.
func degrees(mc int64) string {
	sign := ""
	if mc < 0 {
		sign, mc = "-", -mc
	}
	tenths := (mc + 50) / 100
	if tenths == 0 {
		sign = ""
	}
	return fmt.Sprintf("%s%d.%d", sign, tenths/10, tenths%10)
}
