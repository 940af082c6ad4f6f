package node

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// Kind says what a line of a counter box means.
type Kind int

// Kinds of lines.
const (
	Pass  Kind = iota // marks passed the sensor
	Now               // the box's clock
	Start             // the start signal
	Hello             // what the box is
	Say               // words for the log
)

// Line is one line of a counter box, by itself.
type Line struct {
	Kind  Kind
	Input int // from 1
	// Counted says that the line has a Count: the passes at this input before the
	// line's first, modulo 65536.
	Counted bool
	Count   uint16
	Ticks   uint64   // of a Pass (its first), Now or Start
	Steps   []uint64 // of the further passes, each since the one before
	Hello   Greeting // of a Hello
	Words   string   // of a Say
	Checked bool     // it had a checksum, and that was right
}

// Greeting is what a box says of itself.
type Greeting struct {
	HasBoot bool
	Boot    uint32
	Bits    int    // 24 to 64; 0 is not declared
	Hz      uint64 // ticks a second
	Inputs  int
	Sums    bool // every line has a checksum
}

// Limits of the lines.
const (
	// MostBytes is the longest line.
	MostBytes = 500
	// MostInputs is the largest number of sensors at one box.
	MostInputs = 16
	// mostStep is the most ticks between two passes of a line: 18 minutes of the
	// quickest clock.
	mostStep = 1 << 40
	// usualHz is the clock of a box that declares none: µs.
	usualHz = 1_000_000
)

// ErrChecksum is wrapped by ParseLine where a line's checksum is not that of its
// bytes.
var ErrChecksum = errors.New("its checksum is wrong")

// errLine is the refusal of a line, with what was expected.
func errLine(line, why string) error {
	if len(line) > 60 {
		line = line[:60] + "..."
	}
	return fmt.Errorf("%q is no line of a counter box: %s", line, why)
}

// ParseLine reads a line of a counter box, without its line end, as Protocol
// describes it. It is strict: what it does not know is refused, and the sentence
// of its error says what was expected. The checksum, where there is one, is
// verified before anything else is read.
func ParseLine(line string) (Line, error) {
	body := strings.TrimSuffix(line, "\r")
	if len(body) > MostBytes {
		return Line{}, errLine(line, fmt.Sprintf("it has more than %d bytes", MostBytes))
	}
	checked := false
	if star := strings.LastIndexByte(body, '*'); star >= 0 {
		want, err := strconv.ParseUint(body[star+1:], 16, 16)
		if err != nil || len(body)-star != 5 || body[star+1] == '+' {
			return Line{}, errLine(line, "four hexadecimal digits of a checksum end it behind the star")
		}
		if body = body[:star]; Checksum(body) != uint16(want) {
			return Line{}, fmt.Errorf("%w: %w", errLine(line, "spoiled on its way"), ErrChecksum)
		}
		checked = true
	} else {
		body = strings.Trim(body, " \t") // people's own boxes pad
	}
	for i := range len(body) {
		if body[i] < ' ' || body[i] > '~' {
			return Line{}, errLine(line, "only printable ASCII stands in it")
		}
	}
	out, err := parseBody(body)
	if err != nil {
		return Line{}, errLine(line, err.Error())
	}
	out.Checked = checked
	return out, nil
}

func parseBody(body string) (Line, error) {
	// Words come first, for what is said may hold a colon, an @ or a plus.
	if words, is := strings.CutPrefix(body, "say "); is {
		return Line{Kind: Say, Input: 1, Words: words}, nil
	}
	if words, is := strings.CutPrefix(body, "box "); is {
		hello, err := parseHello(words)
		return Line{Kind: Hello, Input: 1, Hello: hello}, err
	}
	if rest, is := strings.CutPrefix(body, "start "); is {
		ticks, err := number(strings.TrimLeft(rest, " "), 64)
		return Line{Kind: Start, Input: 1, Ticks: ticks}, err
	}
	out := Line{Input: 1}
	if input, rest, has := strings.Cut(body, ":"); has {
		n, err := number(input, 8)
		// A number may have zeros in front, but not any number of them.
		if err != nil || n < 1 || n > MostInputs || len(input) > 2 {
			return out, fmt.Errorf("the input before the colon is 1 to %d", MostInputs)
		}
		out.Input, body = int(n), rest
	}
	if rest, is := strings.CutPrefix(body, "now "); is {
		out.Kind, body = Now, strings.TrimLeft(rest, " ")
	}
	if count, rest, has := strings.Cut(body, "@"); has {
		n, err := number(count, 16)
		if err != nil || len(count) > 5 {
			return out, errors.New("the count before the @ is 0 to 65535")
		}
		out.Counted, out.Count, body = true, uint16(n), rest
	}
	for i, digits := range strings.Split(body, "+") {
		n, err := number(digits, 64)
		switch {
		case err != nil:
			return out, err
		case i == 0:
			out.Ticks = n
		case out.Kind == Now:
			return out, errors.New("behind now stands one number")
		case n > mostStep:
			return out, errors.New("a number in it is too large")
		default:
			out.Steps = append(out.Steps, n)
		}
	}
	return out, nil
}

// number reads decimal digits and nothing else.
func number(digits string, bits int) (uint64, error) {
	why := errors.New("it sends a whole number, or one behind now or start")
	if digits == "" || len(digits) > 20 {
		return 0, why
	}
	for i := range len(digits) {
		if digits[i] < '0' || digits[i] > '9' {
			return 0, why
		}
	}
	n, err := strconv.ParseUint(digits, 10, bits)
	if err != nil {
		return 0, errors.New("a number in it is too large")
	}
	return n, nil
}

// helloLimits are the least and the most of what a hello declares.
var helloLimits = map[string][2]uint64{
	"boot": {0, 1<<32 - 1}, "bits": {24, 64}, "hz": {1000, 1e9}, "inputs": {1, MostInputs}, "sum": {0, 1},
}

func parseHello(words string) (Greeting, error) {
	fields := strings.Split(words, " ")
	if fields[0] != "v1" {
		return Greeting{}, fmt.Errorf(
			"this program reads version v1 of the lines, not %s; use a newer program, or older ones in the box", fields[0],
		)
	}
	out := Greeting{Hz: usualHz, Inputs: 1}
	seen := map[string]bool{}
	for _, field := range fields[1:] {
		word, value, has := strings.Cut(field, "=")
		if !has || word == "" || value == "" || seen[word] {
			return out, errors.New("behind box v1 stand word=value, each word once")
		}
		seen[word] = true
		limits, known := helloLimits[word]
		// A newer box may say more of itself: what this program does not know is left aside.
		if !known {
			continue
		}
		n, err := number(value, 64)
		if word == "bits" && err == nil && n < 24 {
			return out, fmt.Errorf("a clock of %d bits is back where it was in no time; let the box count its wraps and send at least 24 bits", n)
		}
		if err != nil || n < limits[0] || n > limits[1] {
			return out, fmt.Errorf("%s is %s; it is %d to %d", word, value, limits[0], limits[1])
		}
		switch word {
		case "boot":
			out.HasBoot, out.Boot = true, uint32(n)
		case "bits":
			out.Bits = int(n)
		case "hz":
			out.Hz = n
		case "inputs":
			out.Inputs = int(n)
		case "sum":
			out.Sums = n == 1
		}
	}
	return out, nil
}
