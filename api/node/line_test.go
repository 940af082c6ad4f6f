package node

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/node/nodetest"
)

func TestChecksumIsThePublishedOne(t *testing.T) {
	// Catalogue of parametrised CRC algorithms, CRC-16/IBM-3740: check 0x29b1.
	if got := Checksum("123456789"); got != 0x29b1 {
		t.Errorf("the check value is %#x", got)
	}
	for _, text := range []string{"", "0", "box v1", "41@9000000+12004", strings.Repeat("7", MostBytes)} {
		if got, want := Checksum(text), nodetest.Checksum(text); got != want {
			t.Errorf("%.20q: %#x, by long division %#x", text, got, want)
		}
	}
}

func sum(body string) string { return fmt.Sprintf("%s*%04X", body, nodetest.Checksum(body)) }

func TestParseLine(t *testing.T) {
	hello := Greeting{Hz: 1_000_000, Inputs: 1}
	for text, want := range map[string]Line{
		"1000":             {Kind: Pass, Input: 1, Ticks: 1000},
		"  7 \r":           {Kind: Pass, Input: 1, Ticks: 7},
		"now 2000":         {Kind: Now, Input: 1, Ticks: 2000},
		"  now  2000 ":     {Kind: Now, Input: 1, Ticks: 2000},
		"start 3000":       {Kind: Start, Input: 1, Ticks: 3000},
		sum("16:5@9+2+3"):  {Kind: Pass, Input: 16, Counted: true, Count: 5, Ticks: 9, Steps: []uint64{2, 3}, Checked: true},
		"2:now 65535@9":    {Kind: Now, Input: 2, Counted: true, Count: 65535, Ticks: 9},
		"say 2*2":          {},
		sum("say 2*2 = 4"): {Kind: Say, Input: 1, Words: "2*2 = 4", Checked: true},
		"box v1":           {Kind: Hello, Input: 1, Hello: hello},
		sum("box v1 boot=4294967295 bits=24 hz=2000000 inputs=4 sum=1 colour=red"): {
			Kind: Hello, Input: 1, Checked: true,
			Hello: Greeting{HasBoot: true, Boot: 4294967295, Bits: 24, Hz: 2_000_000, Inputs: 4, Sums: true},
		},
		"18446744073709551615": {Kind: Pass, Input: 1, Ticks: 1<<64 - 1},
	} {
		got, err := ParseLine(text)
		if want.Input == 0 {
			if err == nil {
				t.Errorf("%q is taken", text)
			}
			continue
		}
		if diff := cmp.Diff(want, got); err != nil || diff != "" {
			t.Errorf("%q: %v (-want +got)\n%s", text, err, diff)
		}
	}
}

func TestParseLineRefuses(t *testing.T) {
	for text, says := range map[string]string{
		"hello":                   "a whole number",
		"-5":                      "a whole number",
		"+5":                      "a whole number",
		"5+":                      "a whole number",
		"1 2":                     "a whole number",
		"1e3":                     "a whole number",
		"now":                     "a whole number",
		"start now 3":             "a whole number",
		"start 1:3":               "a whole number",
		"now 3+4":                 "one number",
		"18446744073709551616":    "too large",
		"5+1099511627777":         "too large",
		"0:5":                     "the input",
		"17:5":                    "the input",
		"65536@5":                 "the count",
		"5*":                      "four hexadecimal digits",
		"5*12":                    "four hexadecimal digits",
		"5*+123":                  "four hexadecimal digits",
		"5*00000":                 "four hexadecimal digits",
		"5*0000":                  "its checksum is wrong",
		" " + sum("5"):            "its checksum is wrong",
		"1" + sum("23"):           "its checksum is wrong",
		sum("12") + sum("13"):     "its checksum is wrong",
		sum(" 5"):                 "a whole number",
		"1\x00":                   "printable",
		"say höchst":              "printable",
		strings.Repeat("1+", 300): "more than 500 bytes",
		"box v2":                  "version v1",
		"box v1 boot":             "word=value",
		"box v1 boot=1 boot=2":    "each word once",
		"box v1 bits=16":          "count its wraps",
		"box v1 bits=65":          "24 to 64",
		"box v1 hz=999":           "1000 to 1000000000",
		"box v1 inputs=17":        "1 to 16",
		"box v1 sum=2":            "0 to 1",
	} {
		_, err := ParseLine(text)
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%.40q: got %v, want %q", text, err, says)
		}
		if errors.Is(err, ErrChecksum) != (says == "its checksum is wrong") {
			t.Errorf("%.40q: %v", text, err)
		}
	}
}

// TestProtocolHolds: each example of the text that people read is a line.
func TestProtocolHolds(t *testing.T) {
	examples := regexp.MustCompile(
		`(?m)^  (box v1 .*\*[0-9A-F]{4}|\S*@\S+|(?:now|start|say) .*\*[0-9A-F]{4}|now 123456|start 123456|123456) *`,
	).FindAllStringSubmatch(
		Protocol, -1,
	)
	checked := 0
	for _, e := range examples {
		l, err := ParseLine(strings.TrimSpace(e[1]))
		if err != nil {
			t.Errorf("%q: %v", e[1], err)
		}
		if l.Checked {
			checked++
		}
	}
	if len(examples) != 10 || checked != 7 {
		t.Errorf("%d examples, %d of them with a checksum", len(examples), checked)
	}
	for _, says := range []string{"0x29B1", "at most 500 bytes", "CRC-16/IBM-3740"} {
		if !strings.Contains(Protocol, says) {
			t.Errorf("the text does not say %q", says)
		}
	}
}

func FuzzParseLine(f *testing.F) {
	for _, seed := range []string{
		"1", "now 5", "start 9", "now", "start now 3", " 7 ", "1e3", "0x5", "2:41@9+3+4", sum("2:now 7@9"),
		sum("box v1 boot=3 bits=32 hz=1000 sum=1"), "say x",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		l, err := ParseLine(text)
		if err != nil {
			return
		}
		if l.Kind < Pass || l.Kind > Say || l.Input < 1 || l.Input > MostInputs || len(l.Steps) > 0 && l.Kind != Pass || len(text) > MostBytes+1 {
			t.Errorf("%q is read as %+v", text, l)
		}
		if star := strings.LastIndexByte(text, '*'); l.Checked != (star >= 0) {
			t.Errorf("%q is read as %+v", text, l)
		}
		if l.Kind == Hello && (l.Hello.Bits != 0 && l.Hello.Bits < 24 || l.Hello.Bits > 64 || l.Hello.Hz < 1000 || l.Hello.Inputs < 1) {
			t.Errorf("%q is read as %+v", text, l.Hello)
		}
	})
}
