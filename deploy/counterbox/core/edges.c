#include "edges.h"

// One writes (the interrupt), one reads (the main loop), and each moves an index of its own
// that is a single byte: neither has to keep the other out.
static struct edge waiting[ROOM];
static volatile uint8_t put, taken;
static volatile uint16_t counts[MOST_INPUTS + 1];
static volatile uint8_t dropped;

void edges_saw(uint8_t input, uint32_t ticks) {
  uint8_t at = put;
  uint16_t count = counts[input];
  counts[input] = count + 1;
  if ((uint8_t)(at - taken) >= ROOM) {
    dropped++;
    return;
  }
  struct edge *e = &waiting[at & (ROOM - 1)];
  e->ticks = ticks;
  e->count = count;
  e->input = input;
  put = at + 1;
}

bool edges_take(struct edge *to) {
  uint8_t at = taken;
  if (at == put) return false;
  *to = waiting[at & (ROOM - 1)];
  taken = at + 1;
  return true;
}

uint16_t edges_count(uint8_t input) {
  // Two bytes that an interrupt may change between them: read until they agree.
  uint16_t a, b = counts[input];
  do {
    a = b;
    b = counts[input];
  } while (a != b);
  return a;
}

bool edges_dropped(void) {
  static uint8_t said;
  uint8_t now = dropped;
  bool any = now != said;
  said = now;
  return any;
}

void edges_forget(void) {
  put = taken = 0;
  for (uint8_t i = 0; i <= MOST_INPUTS; i++) counts[i] = 0;
}
