package node

// Checksum is the CRC-16/IBM-3740 of the catalogue of parametrised CRC algorithms
// (G. Cook): width 16, poly 0x1021, init 0xFFFF, nothing reflected, xorout 0; its
// check value, for "123456789", is 0x29B1. Small boards have it in their libraries,
// or compute it in the few lines below. It finds every change of up to 16 bits in a
// row and all but one in 65,536 of others.
func Checksum(body string) uint16 {
	crc := uint16(0xFFFF)
	for i := range len(body) {
		crc ^= uint16(body[i]) << 8
		for range 8 {
			if crc&0x8000 != 0 {
				crc = crc<<1 ^ 0x1021
			} else {
				crc <<= 1
			}
		}
	}
	return crc
}
