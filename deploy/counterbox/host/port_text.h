// Constant text on a computer: as everywhere.
#ifndef COUNTERBOX_PORT_TEXT_H
#define COUNTERBOX_PORT_TEXT_H

typedef const char *text;
#define TEXT(s) (s)
#define text_at(t) (*(t))

#endif
