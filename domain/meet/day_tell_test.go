package meet_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"benchmeet/domain/day"
)

// tell writes an event on one line: its name and what it says, without the seed,
// the tree and who gave it.
func (d *toldDay) tell(e day.Event) string {
	data, err := json.Marshal(e)
	if err != nil {
		d.t.Fatal(err)
	}
	return e.Type() + d.fields(data)
}

func (d *toldDay) fields(data []byte) string {
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.UseNumber()
	if _, err := dec.Token(); err != nil { // {
		d.t.Fatal(err)
	}
	var out strings.Builder
	for dec.More() {
		key, _ := dec.Token()
		var value json.RawMessage
		if err := dec.Decode(&value); err != nil {
			d.t.Fatal(err)
		}
		if text := d.field(key.(string), value); text != "" {
			out.WriteString(" " + text)
		}
	}
	return out.String()
}

func (d *toldDay) field(key string, value json.RawMessage) string {
	plain := strings.ReplaceAll(string(value), `"`, "")
	switch {
	case key == "by" || key == "lot_seed" || key == "tree" || key == "method" || key == "boot" || key == "trace" || key == "early":
		return ""
	case key == "reason" && value[0] == '{':
		var r day.Reason
		if err := json.Unmarshal(value, &r); err != nil {
			d.t.Fatal(err)
		}
		return "why=" + string(r.Code)
	case key == "figures":
		var f struct {
			UM int64 `json:"distance_um"`
		}
		if err := json.Unmarshal(value, &f); err != nil {
			d.t.Fatal(err)
		}
		return "m=" + metres(f.UM)
	case key == "drawn":
		return "drawn:" + d.fields(value)
	case key == "heats" && value[0] == '[':
		var heats []day.DrawnHeat
		if err := json.Unmarshal(value, &heats); err != nil {
			d.t.Fatal(err)
		}
		var all []string
		for _, h := range heats {
			text := d.numbers(h.Entries)
			if h.Group != "" {
				text = h.Group + " " + text
			}
			if h.Third {
				text = "third place " + text
			}
			if h.Walkover {
				text += " walkover"
			}
			for _, reason := range h.Reasons {
				text += " " + string(reason)
			}
			all = append(all, text)
		}
		return "heats: " + strings.Join(all, " | ")
	case strings.HasSuffix(key, "_until_us") || key == "deadline_us":
		var us int64
		if err := json.Unmarshal(value, &us); err != nil {
			d.t.Fatal(err)
		}
		if us == 0 {
			return ""
		}
		return strings.TrimSuffix(key, "_us") + "=" + clock(us)
	}
	return key + "=" + plain
}

// clock shows an instant as the time of day of the told day.
func clock(us int64) string {
	return time.UnixMicro(us - dayStart + 9*3600*1_000_000).UTC().Format("15:04:05")
}

func metres(um int64) string { return fmt.Sprintf("%.3f", float64(um)/1e6) }

func (d *toldDay) numbers(entries []day.EntryID) string {
	var all []string
	for _, id := range entries {
		all = append(all, d.hash(id))
	}
	return strings.Join(all, " ")
}

// hash is an entry's start number, "#7".
func (d *toldDay) hash(id day.EntryID) string {
	if e, there := d.s.Entries[id]; there {
		return fmt.Sprintf("#%d", e.StartNumber)
	}
	return string(id)
}
