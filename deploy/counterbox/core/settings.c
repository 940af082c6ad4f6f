#include "settings.h"

#include "line.h"
#include "port.h"

struct settings settings;

// Where things lie in the memory: the settings with a sum, then the number of the start
// twice, each with its complement, written in turn.
enum { AT_SETTINGS = 0, AT_BOOT = 192, BOOT_SIZE = 8 };

// VERSION goes up when the layout changes: then what is kept is not read.
enum { VERSION = 1 };

static uint16_t summed(const uint8_t *p, uint8_t n) {
  uint16_t a = VERSION, b = 0; // Fletcher's sum of 16 bits
  for (; n > 0; n--) {
    a = (a + *p++) % 255;
    b = (b + a) % 255;
  }
  return b << 8 | a;
}

static void usual(void) {
  settings.inputs = 1;
  settings.speed = 0;
  for (uint8_t i = 0; i < MOST_INPUTS; i++) {
    struct input_settings *in = &settings.input[i];
    in->pin = i;
    in->falling = 1;
    in->marks = 1;
    in->name[0] = 0;
  }
}

bool settings_load(void) {
  uint8_t *p = (uint8_t *)&settings;
  for (uint8_t i = 0; i < sizeof settings; i++) p[i] = port_memory(AT_SETTINGS + i, -1);
  uint16_t kept = (uint16_t)port_memory(AT_SETTINGS + sizeof settings, -1) << 8;
  kept |= port_memory(AT_SETTINGS + sizeof settings + 1, -1);
  if (kept == summed(p, sizeof settings) && settings.inputs >= 1 && settings.inputs <= MOST_INPUTS) return true;
  usual();
  return false;
}

static void keep(void) {
  const uint8_t *p = (const uint8_t *)&settings;
  for (uint8_t i = 0; i < sizeof settings; i++) port_memory(AT_SETTINGS + i, p[i]);
  uint16_t sum = summed(p, sizeof settings);
  port_memory(AT_SETTINGS + sizeof settings, sum >> 8);
  port_memory(AT_SETTINGS + sizeof settings + 1, sum & 255);
}

uint32_t settings_baud(void) {
  static const uint32_t speeds[] = {115200, 250000, 500000, 1000000};
  return speeds[settings.speed & 3];
}

static uint32_t boot_at(uint8_t slot, bool *whole) {
  uint8_t at = AT_BOOT + slot * BOOT_SIZE;
  uint32_t n = 0;
  *whole = true;
  for (uint8_t i = 0; i < 4; i++) {
    uint8_t byte = port_memory(at + i, -1);
    *whole = *whole && (byte ^ port_memory(at + 4 + i, -1)) == 0xff;
    n = n << 8 | byte;
  }
  return n;
}

uint32_t settings_boot(void) {
  bool a_whole, b_whole;
  uint32_t a = boot_at(0, &a_whole), b = boot_at(1, &b_whole), n = 0;
  if (a_whole) n = a;
  if (b_whole && (!a_whole || b > a)) n = b;
  n++;
  // Over the older of the two, so that the other stays while this is written.
  uint8_t at = AT_BOOT + (n & 1) * BOOT_SIZE;
  for (uint8_t i = 0; i < 4; i++) {
    uint8_t byte = n >> (24 - 8 * i);
    port_memory(at + i, byte);
    port_memory(at + 4 + i, (uint8_t)~byte);
  }
  return n;
}

static void say_input(uint8_t i) {
  struct input_settings *in = &settings.input[i];
  line_text(TEXT("say input "));
  line_number(i + 1);
  line_text(TEXT(": pin "));
  line_number(in->pin);
  line_text(in->falling ? TEXT(", a mark is low, marks ") : TEXT(", a mark is high, marks "));
  line_number(in->marks);
  if (in->name[0]) {
    line_text(TEXT(", bench "));
    for (const char *c = in->name; *c; c++) line_char(*c);
  }
  line_end();
}

void settings_say(void) {
  line_text(TEXT("say inputs "));
  line_number(settings.inputs);
  line_text(TEXT(", baud "));
  line_number(settings_baud());
  line_end();
  for (uint8_t i = 0; i < settings.inputs; i++) say_input(i);
}

// next cuts the first word off; it is empty at the end.
static char *next(char **words) {
  char *w = *words;
  while (*w == ' ') w++;
  char *end = w;
  while (*end && *end != ' ') end++;
  *words = *end ? end + 1 : end;
  *end = 0;
  return w;
}

static bool is(const char *word, text t) {
  char c;
  for (; (c = text_at(t)) != 0; t++, word++) {
    if (*word != c) return false;
  }
  return *word == 0;
}

// number reads least to most; false where a word is none.
static bool number(const char *word, uint32_t least, uint32_t most, uint32_t *to) {
  uint32_t n = 0;
  uint8_t digits = 0;
  for (; *word >= '0' && *word <= '9' && digits < 8; word++, digits++) n = n * 10 + (uint8_t)(*word - '0');
  *to = n;
  return *word == 0 && digits > 0 && n >= least && n <= most;
}

static bool named(struct input_settings *in, const char *word) {
  uint8_t n = 0;
  for (; word[n]; n++) {
    char c = word[n];
    bool fine = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-';
    if (n == NAME_LENGTH || !fine) return false;
  }
  if (n == 0) return false;
  for (uint8_t i = 0; i <= n; i++) in->name[i] = word[i];
  return true;
}

// of_input sets something of one input; false where the words are wrong.
static bool of_input(const char *what, char *words) {
  uint32_t i, n;
  if (!number(next(&words), 1, MOST_INPUTS, &i)) return false;
  struct input_settings *in = &settings.input[i - 1];
  char *value = next(&words);
  if (is(what, TEXT("pin"))) {
    if (!number(value, 0, 5, &n)) return false;
    // A pin is one input's: who had it takes the one that is given up.
    for (uint8_t other = 0; other < MOST_INPUTS; other++) {
      if (settings.input[other].pin == n) settings.input[other].pin = in->pin;
    }
    in->pin = n;
    return true;
  }
  if (is(what, TEXT("marks"))) {
    if (!number(value, 1, 16, &n)) return false;
    in->marks = n;
    return true;
  }
  if (is(what, TEXT("mark"))) {
    if (!is(value, TEXT("low")) && !is(value, TEXT("high"))) return false;
    in->falling = is(value, TEXT("low"));
    return true;
  }
  return is(what, TEXT("bench")) && named(in, value);
}

bool settings_take(char *words) {
  char *what = next(&words);
  uint32_t n;
  bool again = true, fine;
  if (*what == 0) return false;
  if (is(what, TEXT("show"))) {
    settings_say();
    return false;
  }
  if (is(what, TEXT("restart"))) return true;
  if (is(what, TEXT("inputs"))) {
    fine = number(next(&words), 1, MOST_INPUTS, &n);
    if (fine) settings.inputs = n;
  } else if (is(what, TEXT("baud"))) {
    fine = number(next(&words), 115200, 1000000, &n);
    uint8_t before = settings.speed;
    for (settings.speed = 0; fine && settings.speed < 4 && settings_baud() != n;) settings.speed++;
    fine = fine && settings.speed < 4;
    if (!fine) settings.speed = before;
  } else {
    again = is(what, TEXT("pin")) || is(what, TEXT("mark"));
    fine = of_input(what, words);
  }
  if (!fine) {
    line_text(TEXT("say not understood. inputs 1-4; pin INPUT 0-5; mark INPUT low|high; marks INPUT 1-16; "
                   "bench INPUT NAME; baud 115200|250000|500000|1000000; show; restart"));
    line_end();
    return false;
  }
  keep();
  line_text(again ? TEXT("say kept, starting again") : TEXT("say kept"));
  line_end();
  return again;
}
