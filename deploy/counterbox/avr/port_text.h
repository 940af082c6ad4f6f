// Constant text of the 8-bit board stays in the flash: its working memory is small.
#ifndef COUNTERBOX_PORT_TEXT_H
#define COUNTERBOX_PORT_TEXT_H

#include <avr/pgmspace.h>

typedef const char *text;
#define TEXT(s) PSTR(s)
#define text_at(t) ((char)pgm_read_byte(t))

#endif
