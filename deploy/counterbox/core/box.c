#include "box.h"

#include "edges.h"
#include "line.h"
#include "port.h"
#include "settings.h"

// JOINED is how many passes stand in a line at most, each but the first as the ticks since
// the one before.
#define JOINED 16

// A pass waits no longer than this for others to share its line, in ms.
#define WAIT_MS 20

// The lamp stays on for so long after a pass that the eye sees it, in ms.
#define LAMP_MS 30

// line_open is the line that an input is collecting.
static struct {
  uint32_t first, last; // ticks
  uint16_t high;        // the wraps before the first
  uint16_t count;
  uint8_t steps;
  bool any;
  uint32_t step[JOINED - 1];
} open[MOST_INPUTS];

static uint32_t ms;        // ticks in one
static uint32_t boot;
static uint32_t now;       // the clock at this step
static uint16_t wraps;     // of its 32 bits
static uint32_t said, greeted, lit; // when: the clock, the hello, the lamp
static bool lamp;
static char heard[64];
static uint8_t heard_length;

static void look_at_clock(void) {
  uint32_t before = now;
  now = port_ticks();
  if (now < before) wraps++;
}

// wraps_of is how many wraps the clock had at an instant that is over, less than 2^32
// ticks ago.
static uint16_t wraps_of(uint32_t ticks) { return ticks <= now ? wraps : wraps - 1; }

// input_is writes which input a line is of; the first goes without.
static void input_is(uint8_t input) {
  if (input == 0) return;
  line_number(input + 1);
  line_char(':');
}

static void hello(void) {
  line_text(TEXT("box v1 boot="));
  line_number(boot);
  line_text(TEXT(" bits=48 hz="));
  line_number(ms * 1000);
  line_text(TEXT(" inputs="));
  line_number(settings.inputs);
  line_text(TEXT(" sum=1"));
  line_end();
  greeted = now;
}

static void send(uint8_t input) {
  if (!open[input].any) return;
  input_is(input);
  line_number(open[input].count);
  line_char('@');
  line_ticks(open[input].high, open[input].first);
  for (uint8_t i = 0; i < open[input].steps; i++) {
    line_char('+');
    line_number(open[input].step[i]);
  }
  line_end();
  open[input].any = false;
}

static void take(const struct edge *e) {
  if (!lamp) port_lamp(lamp = true);
  lit = now;
  if (e->input == START_INPUT) {
    line_text(TEXT("start "));
    line_ticks(wraps_of(e->ticks), e->ticks);
    line_end();
    return;
  }
  uint8_t i = e->input;
  // What is not the very next pass starts a line of its own: its count says what is missing.
  if (open[i].any && (uint16_t)(open[i].count + open[i].steps + 1) != e->count) send(i);
  if (!open[i].any) {
    open[i].any = true;
    open[i].first = open[i].last = e->ticks;
    open[i].high = wraps_of(e->ticks);
    open[i].count = e->count;
    open[i].steps = 0;
    return;
  }
  open[i].step[open[i].steps++] = e->ticks - open[i].last;
  open[i].last = e->ticks;
  if (open[i].steps == JOINED - 1) send(i);
}

static void say_clock(void) {
  for (uint8_t i = 0; i < settings.inputs; i++) {
    // What still waits comes first: the count of a line says what came before it.
    if (open[i].any) continue;
    uint16_t count = edges_count(i);
    input_is(i);
    line_text(TEXT("now "));
    line_number(count);
    line_char('@');
    line_ticks(wraps, now);
    line_end();
  }
  said = now;
}

// listen collects a line from the cable; true: start again.
static bool listen(void) {
  for (int16_t c; (c = port_receive()) >= 0;) {
    if (c == '\n' || c == '\r') {
      heard[heard_length] = 0;
      bool whole = heard_length < sizeof heard - 1;
      heard_length = 0;
      if (whole && settings_take(heard)) return true;
      continue;
    }
    // A line that is too long is passed over whole.
    if (heard_length < sizeof heard - 1) heard[heard_length++] = (char)c;
  }
  return false;
}

void box_begin(uint32_t hz, text why, bool kept) {
  ms = hz / 1000;
  boot = settings_boot();
  wraps = 0;
  now = port_ticks();
  said = lit = now;
  heard_length = 0;
  for (uint8_t i = 0; i < MOST_INPUTS; i++) open[i].any = false;
  hello();
  line_text(TEXT("say started: "));
  line_text(why);
  line_end();
  if (!kept) {
    line_text(TEXT("say no settings are kept: the usual ones, see show"));
    line_end();
  }
}

bool box_step(void) {
  look_at_clock();
  struct edge e;
  // So many at once at most that the clock is looked at and commands are heard in time.
  for (uint8_t n = 0; n < ROOM && edges_take(&e); n++) {
    look_at_clock(); // a pass lies before what the clock says behind it
    take(&e);
  }
  for (uint8_t i = 0; i < settings.inputs; i++) {
    if (open[i].any && now - open[i].first > WAIT_MS * ms) send(i);
  }
  if (edges_dropped()) {
    line_text(TEXT("say passes had no room: the line is too slow for what comes"));
    line_end();
  }
  if (now - said > 1000 * ms) say_clock();
  if (now - greeted > 2000 * ms) hello();
  if (lamp && now - lit > LAMP_MS * ms) port_lamp(lamp = false);
  return listen();
}
