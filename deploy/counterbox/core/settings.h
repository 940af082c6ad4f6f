// What a club sets of its board over the cable, kept where it outlives the power.
#ifndef COUNTERBOX_SETTINGS_H
#define COUNTERBOX_SETTINGS_H

#include <stdbool.h>
#include <stdint.h>

#include "edges.h"

#define NAME_LENGTH 12

struct input_settings {
  uint8_t pin;     // 0 to 5
  uint8_t falling; // 1: a mark pulls the pin low; 0: it raises it
  uint8_t marks;   // on the roller, 1 to 16: said to people, changes nothing
  char name[NAME_LENGTH + 1]; // of its bench, or empty
};

struct settings {
  uint8_t inputs; // 1 to MOST_INPUTS
  uint8_t speed;  // of the line: 0 to 3, see settings_baud
  struct input_settings input[MOST_INPUTS];
};

extern struct settings settings;

// settings_load reads them; false where what is kept is spoiled or nothing is: then they
// are the usual ones.
bool settings_load(void);

// settings_baud is the speed of the line, in bits a second.
uint32_t settings_baud(void);

// settings_boot counts this start and returns its number. A power cut while it is being
// written leaves the number of the start before readable.
uint32_t settings_boot(void);

// settings_take does what a line from the cable says ("pin 1 2") and answers in a line of
// its own. True: the board has to start again for it.
bool settings_take(char *words);

// settings_say tells all of them.
void settings_say(void);

#endif
