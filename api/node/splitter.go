package node

// splitter cuts what comes over a wire into lines. It keeps at most one line: what
// is longer than any line is handed on cut, for ParseLine to refuse.
type splitter struct{ part []byte }

// feed takes bytes and hands on each line that they end, without its line feed.
func (s *splitter) feed(bytes []byte, line func(string)) {
	for _, b := range bytes {
		switch {
		case b == '\n':
			line(string(s.part))
			s.part = s.part[:0]
		case len(s.part) <= MostBytes+1:
			s.part = append(s.part, b)
		}
	}
}

// rest is what came behind the last line feed.
func (s *splitter) rest() string { return string(s.part) }
