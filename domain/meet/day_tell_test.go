package meet_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"time"

	"benchmeet/domain/day"
)

// outcomes are the fields by which events say what rules made of them. A day tells
// them after the verb "outcomes"; else its lines say what happened, and the verbs that
// look at a heat what came of it.
var outcomes = map[string]bool{
	"sent": true, "result": true, "decider": true, "stands": true, "keeps": true, "again": true, "better": true,
	"drops_penalty_um": true, "sets_aside": true, "void_runs": true, "ends": true, "clears": true, "lapses": true,
	"factor_set": true, "ends_us": true, "deadlines_us": true, "protests_us": true, "batteries_since_us": true,
}

func init() {
	verbs["outcomes"] = func(d *toldDay) { d.outcomes = true; d.say("ok") }
}

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

// toldTimes are the instants of what was told.
var toldTimes = regexp.MustCompile(`(not_before|was)_us:[0-9]+`)

func (d *toldDay) field(key string, value json.RawMessage) string {
	plain := strings.ReplaceAll(string(value), `"`, "")
	switch {
	case key == "by" || key == "lot_seed" || key == "tree" || key == "method" || key == "boot" || key == "trace" || key == "early":
		return ""
	case outcomes[key] && !d.outcomes:
		return ""
	case key == "ends_us" || key == "batteries_since_us" || key == "until_us" || key == "finish_us":
		return strings.TrimSuffix(key, "_us") + "=" + d.clock(value)
	case key == "deadlines_us" || key == "protests_us":
		var at map[day.HeatID]json.RawMessage
		if err := json.Unmarshal(value, &at); err != nil {
			d.t.Fatal(err)
		}
		text := strings.TrimSuffix(key, "_us") + ":"
		for _, heat := range slices.Sorted(maps.Keys(at)) {
			text += " " + string(heat) + "=" + d.clock(at[heat])
		}
		return text
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
	case strings.HasPrefix(string(value), `["`), strings.Contains(string(value), `"not_before_us"`): // in order, or told
		return key + "=" + toldTimes.ReplaceAllStringFunc(plain, func(at string) string {
			name, us, _ := strings.Cut(at, ":")
			return strings.TrimSuffix(name, "_us") + ":" + d.clock(json.RawMessage(us))
		})
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
			if h.ProtestUntilUS > 0 && d.outcomes {
				text += " until " + clock(h.ProtestUntilUS)
			}
			for _, now := range h.Out {
				if d.outcomes {
					text += " " + d.hash(now.Entry) + " " + string(now.Out)
				}
			}
			for _, reason := range h.Reasons {
				text += " " + string(reason)
			}
			all = append(all, text)
		}
		return "heats: " + strings.Join(all, " | ")
	case strings.HasSuffix(key, "_until_us") || key == "deadline_us":
		if at := d.clock(value); at != "" {
			return strings.TrimSuffix(key, "_us") + "=" + at
		}
		return ""
	}
	return key + "=" + plain
}

// clock reads an instant and shows it, nothing where there is none.
func (d *toldDay) clock(value json.RawMessage) string {
	var us int64
	if err := json.Unmarshal(value, &us); err != nil {
		d.t.Fatal(err)
	}
	if us == 0 {
		return ""
	}
	return clock(us)
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
