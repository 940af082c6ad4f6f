// The counter box: what it does in its main loop, on any board.
#ifndef COUNTERBOX_BOX_H
#define COUNTERBOX_BOX_H

#include <stdbool.h>
#include <stdint.h>

#include "port_text.h"

// box_begin says hello. The settings were loaded; why tells why the board started, and
// kept whether its settings were there.
void box_begin(uint32_t hz, text why, bool kept);

// box_step does what there is to do now. It is called without a break; true: the board is
// to start again.
bool box_step(void);

#endif
