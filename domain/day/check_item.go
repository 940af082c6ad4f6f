package day

import (
	"cmp"
	"strconv"

	"benchmeet/domain/refusal"
)

// ItemUnit is what a measured item of a checklist is counted in.
type ItemUnit string

// Units of items.
const (
	UnitNone ItemUnit = ""   // yes or no
	UnitMG   ItemUnit = "mg" // thousandths of a gram
	UnitUM   ItemUnit = "um" // thousandths of a millimetre
)

// CheckItem is one line of a class's checklist.
type CheckItem struct {
	ID string `json:"id"`
	// Name is what is looked at, in plain words, 1 to 80 characters: "Width",
	// "The guard sits tight".
	Name string   `json:"name"`
	Unit ItemUnit `json:"unit,omitempty"`
	// Min and Max bound a measured item in its unit; 0 is no bound.
	Min int64 `json:"min,omitempty"`
	Max int64 `json:"max,omitempty"`
	// Instrument is what it is usually measured with, at most 40 characters.
	Instrument string `json:"instrument,omitempty"`
}

// UsualChecklist is a start for a class with its limit of mass, for an organiser to
// change (common practice).
func (c CarClass) UsualChecklist() []CheckItem {
	return []CheckItem{
		{ID: "mass", Name: "Weight with battery", Unit: UnitMG, Max: 1000 * int64(c.MassMaxG), Instrument: "scale"},
		{ID: "wheel", Name: "Wheel diameter", Unit: UnitUM, Instrument: "calliper"},
		{ID: "width", Name: "Width", Unit: UnitUM, Instrument: "calliper"},
		{ID: "number", Name: "The start number can be read"},
		{ID: "loose", Name: "Nothing is loose and nothing sticks out"},
		{ID: "wires", Name: "No bare wires"},
		{ID: "switch", Name: "It can be switched off at once"},
	}
}

// Bounds of a checklist.
const (
	mostItems    = 30
	mostItemName = 80
)

func checkItems(division DivisionID, items []CheckItem) error {
	if len(items) > mostItems {
		return refusal.New("items-many", "division", division, "most", mostItems)
	}
	for i, item := range items {
		if err := CheckID("item", item.ID); err != nil {
			return err
		}
		twice := false
		for _, before := range items[:i] {
			twice = twice || before.ID == item.ID
		}
		measured := item.Unit != UnitNone
		if twice || item.Name == "" || len(item.Name) > mostItemName || len(item.Instrument) > MostInstrument ||
			!OneOf(item.Unit, UnitNone, UnitMG, UnitUM) || item.Min < 0 || item.Max < 0 || item.Max > MostItemValue ||
			!measured && (item.Min != 0 || item.Max != 0) || item.Max != 0 && item.Min > item.Max {
			return refusal.New("item-order", "division", division, "item", cmp.Or(item.Name, strconv.Itoa(i+1)))
		}
	}
	return nil
}
