// Lines of the counter box's protocol, version 1, each with its checksum (what they
// mean: benchmeet help node). A line goes out byte by byte as it is made; nothing of it
// is kept.
#ifndef COUNTERBOX_LINE_H
#define COUNTERBOX_LINE_H

#include <stdint.h>

#include "port_text.h"

void line_char(char c);
void line_text(text t);
void line_number(uint32_t n);
// line_ticks writes high * 2^32 + low.
void line_ticks(uint16_t high, uint32_t low);
// line_end writes the checksum of all since the last end, and the end.
void line_end(void);

#endif
