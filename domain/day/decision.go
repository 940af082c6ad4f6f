package day

// DrawnUS is when the last round was drawn; 0 before the first.
func (p Programme) DrawnUS() int64 {
	last, _ := p.Current()
	return last.DrawnUS
}
