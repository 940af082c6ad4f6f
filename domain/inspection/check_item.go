package inspection

import (
	"fmt"
	"strings"

	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// judgeItem says what is wrong with a value of an item; nil where nothing is.
func judgeItem(item day.CheckItem, v day.ItemValue) *refusal.Refusal {
	switch {
	case item.Unit == day.UnitNone && !*v.Yes:
		return refusal.New("item-no", "item", item.Name)
	case item.Unit == day.UnitNone:
		return nil
	case *v.Value < item.Min:
		return refusal.New("item-low", "item", item.Name, "given", shownValue(item, *v.Value), "least", shownValue(item, item.Min))
	case item.Max != 0 && *v.Value > item.Max:
		return refusal.New("item-high", "item", item.Name, "given", shownValue(item, *v.Value), "most", shownValue(item, item.Max))
	}
	return nil
}

// shownValue writes a value with the unit in which it is read: "182.5 g", "31 mm".
func shownValue(item day.CheckItem, v int64) string {
	unit := map[day.ItemUnit]string{day.UnitMG: " g", day.UnitUM: " mm"}[item.Unit]
	text := fmt.Sprintf("%d.%03d", v/1000, v%1000)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".") + unit
}
