// What a port has to give the core: five functions, and three calls that its interrupts
// make into the core (edges.h). Nothing else of the core knows which board it runs on.
#ifndef COUNTERBOX_PORT_H
#define COUNTERBOX_PORT_H

#include <stdbool.h>
#include <stdint.h>

// The ticks of the board's free-running clock, the low 32 bits. It is called from the
// main loop only, and more often than once in half a turn of the 32 bits.
uint32_t port_ticks(void);

// Hands a byte to the line; false where it has no room for it now. A byte that was taken
// is sent, in its order.
bool port_send(uint8_t byte);

// The next byte that came over the line, or -1.
int16_t port_receive(void);

// A byte of the memory that outlives the power, addresses 0 to 255: writes value where it
// is 0 to 255, changes nothing where it is -1, and returns what stands there now.
uint8_t port_memory(uint8_t at, int16_t value);

// The lamp.
void port_lamp(bool on);

#endif
