// The passes that the interrupts saw and the main loop has not sent yet.
#ifndef COUNTERBOX_EDGES_H
#define COUNTERBOX_EDGES_H

#include <stdbool.h>
#include <stdint.h>

// MOST_INPUTS is how many sensors a board may have.
#define MOST_INPUTS 4

// START_INPUT is the number under which the start signal stands among the passes.
#define START_INPUT MOST_INPUTS

// ROOM is how many passes wait at most; a power of two.
#ifndef ROOM
#define ROOM 64
#endif

struct edge {
  uint32_t ticks;
  uint16_t count; // of this input before this pass, modulo 65536
  uint8_t input;  // from 0
};

// edges_saw is called by the interrupt: a mark passed the sensor of an input at so many
// ticks. The pass is counted even where there is no room for it: so the loss is known.
void edges_saw(uint8_t input, uint32_t ticks);

// edges_take gives the oldest pass that waits.
bool edges_take(struct edge *to);

// edges_count is how many passes an input saw since the start, modulo 65536.
uint16_t edges_count(uint8_t input);

// edges_dropped says whether passes had no room since it was last asked. How many is in
// the counts.
bool edges_dropped(void);

// edges_forget empties all, at the start.
void edges_forget(void);

#endif
