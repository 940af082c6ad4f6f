// host is the core on a computer, with a port that a script drives: the double of a port
// for any other board. It is built to stop at each wrong access and each overflow.
//
//   clock TICKS          the port's clock stands at TICKS (its low 32 bits count)
//   seen INPUT TICKS     an interrupt saw a pass at INPUT (0 to 3; 4 is the start signal)
//   cable TEXT           the computer sends a line
//   lamp                 whether the lamp is on is said
//   step                 one turn of the main loop
//   memory AT VALUE      a byte of the memory is spoiled
//   again                the board starts again, its memory as it is
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "box.h"
#include "edges.h"
#include "port.h"
#include "settings.h"

static uint32_t ticks;
static uint8_t memory[256];
static char come[512];
static size_t come_put, come_taken;

uint32_t port_ticks(void) { return ticks; }

bool port_send(uint8_t byte) {
  putchar(byte);
  return true;
}

int16_t port_receive(void) {
  if (come_taken == come_put) {
    come_put = come_taken = 0;
    return -1;
  }
  return (uint8_t)come[come_taken++];
}

uint8_t port_memory(uint8_t at, int16_t value) {
  if (value >= 0) memory[at] = (uint8_t)value;
  return memory[at];
}

static bool lamp_on;

void port_lamp(bool on) { lamp_on = on; }

static void begin(void) {
  edges_forget();
  bool kept = settings_load();
  box_begin(1000000, TEXT("power"), kept);
}

int main(void) {
  char line[256];
  memset(memory, 0xff, sizeof memory);
  begin();
  while (fgets(line, sizeof line, stdin)) {
    unsigned long long a = 0, b = 0;
    char word[16] = "";
    if (sscanf(line, "%15s %llu %llu", word, &a, &b) < 1) continue;
    if (!strcmp(word, "clock")) {
      ticks = (uint32_t)a;
    } else if (!strcmp(word, "seen") && a <= START_INPUT) {
      edges_saw((uint8_t)a, (uint32_t)b);
    } else if (!strcmp(word, "cable")) {
      for (char *c = line + 6; *c && come_put < sizeof come; c++) come[come_put++] = *c;
    } else if (!strcmp(word, "step")) {
      if (box_step()) begin();
    } else if (!strcmp(word, "memory") && a < sizeof memory) {
      memory[a] = (uint8_t)b;
    } else if (!strcmp(word, "again")) {
      begin();
    } else if (!strcmp(word, "lamp")) {
      printf("say lamp %s\n", lamp_on ? "on" : "off");
    } else {
      fprintf(stderr, "host: the script does not know: %s", line);
      return 2;
    }
  }
  return 0;
}
