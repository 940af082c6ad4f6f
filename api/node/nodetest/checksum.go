package nodetest

// Checksum is that of the protocol as the catalogue describes it: the
// remainder of long division by x^16+x^12+x^5+1, the register preset to ones, bit
// for bit. It shares nothing with the program.
func Checksum(text string) uint16 {
	var bits []byte
	for i := range len(text) {
		for k := 7; k >= 0; k-- {
			bits = append(bits, text[i]>>k&1)
		}
	}
	bits = append(bits, make([]byte, 16)...)
	for i := range 16 { // the preset, as bits that are added to the first sixteen
		bits[i] ^= 1
	}
	divisor := []byte{1, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1}
	for i := 0; i+16 < len(bits); i++ {
		if bits[i] == 1 {
			for k, d := range divisor {
				bits[i+k] ^= d
			}
		}
	}
	var out uint16
	for _, bit := range bits[len(bits)-16:] {
		out = out<<1 | uint16(bit)
	}
	return out
}
