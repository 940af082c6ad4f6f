// board runs the counter box's program on an emulated 8-bit board and drives its pins.
//
//   board [--pty] PROGRAM < SCRIPT
//
// The script is lines in the order of their times, in cycles of the board's clock. With
// --pty it may be written while the board runs, and then what is late happens at once:
//
//   CYCLE pin P LEVEL       sensor pin P (0 to 5) goes to LEVEL (0 or 1)
//   CYCLE roll P PERIOD N   a roller turns at pin P: N marks, PERIOD cycles apart, each low
//                           for a tenth of that; 0 marks stop it
//   CYCLE start LEVEL       the start button
//   CYCLE cable TEXT        the computer sends a line
//   CYCLE power             the power goes and comes: memory that needs it is scrambled
//   CYCLE low               the supply sinks and comes back: the board starts again
//   CYCLE hang              the program runs into a loop that never ends
//   CYCLE end               the end of the run
//
// What the board writes on its line goes to standard output, each byte when its stop bit
// is through; to standard error goes what was measured: cycles, bytes, the longest time
// with interrupts held, blinks of the lamp.
#include <errno.h>
#include <fcntl.h>
#include <pty.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>

#include <simavr/avr_eeprom.h>
#include <simavr/avr_ioport.h>
#include <simavr/avr_uart.h>
#include <simavr/sim_avr.h>
#include <simavr/sim_elf.h>

#define HZ 16000000

static avr_t *avr;
static uint64_t bytes, blinks;
static int line_fd = 1;
static char cable[4096];
static size_t cable_put, cable_taken;
static bool may_receive;
static avr_irq_t *to_board;

static void written(avr_irq_t *irq, uint32_t value, void *param) {
  (void)irq;
  (void)param;
  uint8_t byte = (uint8_t)value;
  bytes++;
  if (line_fd == 1) {
    putchar(byte);
  } else if (write(line_fd, &byte, 1) < 0 && errno != EAGAIN && errno != EIO) {
    perror("board: the line");
    exit(1);
  }
}

static void lamp(avr_irq_t *irq, uint32_t value, void *param) {
  (void)irq;
  (void)param;
  if (value) blinks++;
}

static void room(avr_irq_t *irq, uint32_t value, void *param) {
  (void)irq;
  (void)value;
  (void)param;
  may_receive = true;
}

static void no_room(avr_irq_t *irq, uint32_t value, void *param) {
  (void)irq;
  (void)value;
  (void)param;
  may_receive = false;
}

static uint32_t chance = 1;

// scramble fills the working memory as a power cut does: with anything.
static void scramble(void) {
  for (uint32_t at = 0x100; at <= avr->ramend; at++) {
    chance = chance * 1664525 + 1013904223;
    avr->data[at] = (uint8_t)(chance >> 24);
  }
}

static bool begun; // interrupts were let in since the last start
static uint8_t level[6] = {1, 1, 1, 1, 1, 1}, start_level = 1;

static void pin(char port, int bit, uint8_t to) {
  avr_raise_irq(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ(port), bit), to);
}

// levels gives all pins their levels again: a start of the emulated board forgets them.
static void levels(void) {
  for (int p = 0; p < 6; p++) {
    pin('C', p, !level[p]);
    pin('C', p, level[p]);
  }
  pin('D', 2, !start_level);
  pin('D', 2, start_level);
}

// start_again resets the board; flags are those of its register of causes. The clock of
// the emulator goes on, so that times of the script stay what they are.
static void start_again(uint8_t flags) {
  avr_cycle_count_t now = avr->cycle;
  avr_reset(avr);
  avr->cycle = now;
  avr->data[0x54] = flags; // MCUSR
  begun = false;
  levels();
}

struct event {
  uint64_t at;
  char what[8];
  int a, b, c;
  char words[128];
};

// A roller at each pin: when its level changes next, and how many changes are left.
static struct {
  uint64_t next, period;
  int left;
} roller[6];
static uint64_t rollers_next = UINT64_MAX;

static void plan_rollers(void) {
  rollers_next = UINT64_MAX;
  for (int p = 0; p < 6; p++) {
    if (roller[p].left > 0 && roller[p].next < rollers_next) rollers_next = roller[p].next;
  }
}

static void turn_rollers(void) {
  for (int p = 0; p < 6; p++) {
    for (; roller[p].left > 0 && roller[p].next <= avr->cycle; roller[p].left--) {
      level[p] = roller[p].left & 1; // an even number is left before a mark
      pin('C', p, level[p]);
      uint64_t width = roller[p].period / 10;
      roller[p].next += level[p] ? roller[p].period - width : width;
    }
  }
  plan_rollers();
}

// read_line reads a line of the script. Where it is written while the board runs it is
// none (0) while nothing is there; -1 is its end.
static int read_line(char *text, size_t size, bool live) {
  if (!live) return fgets(text, (int)size, stdin) ? 1 : -1;
  static char come[65536];
  static size_t put, taken;
  static bool ended;
  for (;;) {
    char *end = memchr(come + taken, '\n', put - taken);
    if (end) {
      size_t n = (size_t)(end - (come + taken));
      if (n >= size) exit(2);
      memcpy(text, come + taken, n);
      text[n] = 0;
      taken += n + 1;
      return 1;
    }
    if (ended) return -1;
    memmove(come, come + taken, put - taken);
    put -= taken;
    taken = 0;
    if (put == sizeof come) exit(2);
    ssize_t n = read(0, come + put, sizeof come - put);
    if (n == 0) ended = true;
    if (n < 0) return errno == EAGAIN ? 0 : -1;
    put += (size_t)n;
  }
}

static int next_event(struct event *e, bool live) {
  static char text[256];
  int there = read_line(text, sizeof text, live);
  if (there <= 0) return there;
  text[strcspn(text, "\n")] = 0;
  int n = 0;
  unsigned long long at;
  memset(e, 0, sizeof *e);
  if (sscanf(text, "%llu %7s %n", &at, e->what, &n) < 2) {
    fprintf(stderr, "board: no line of a script: %s\n", text);
    exit(2);
  }
  e->at = at;
  snprintf(e->words, sizeof e->words, "%s", text + n);
  sscanf(e->words, "%d %d %d", &e->a, &e->b, &e->c);
  return 1;
}

static void to_cable(const char *text) {
  for (; *text; text++) cable[cable_put++ % sizeof cable] = *text;
  cable[cable_put++ % sizeof cable] = '\n';
}

// happen does what the script says; false at its end.
static bool happen(const struct event *e) {
  if (!strcmp(e->what, "pin")) {
    if (e->a < 0 || e->a > 5) exit(2);
    level[e->a] = e->b != 0;
    pin('C', e->a, level[e->a]);
  } else if (!strcmp(e->what, "roll")) {
    if (e->a < 0 || e->a > 5 || e->b < 10) exit(2);
    roller[e->a].left = 2 * e->c;
    roller[e->a].period = (uint64_t)e->b;
    roller[e->a].next = avr->cycle;
    plan_rollers();
  } else if (!strcmp(e->what, "start")) {
    start_level = e->a != 0;
    pin('D', 2, start_level);
  } else if (!strcmp(e->what, "cable")) {
    to_cable(e->words);
  } else if (!strcmp(e->what, "power")) {
    scramble();
    start_again(1);
  } else if (!strcmp(e->what, "low")) {
    start_again(4);
  } else if (!strcmp(e->what, "hang")) {
    // A jump onto itself, in flash that the program does not use.
    uint32_t at = avr->flashend - 1;
    avr->flash[at] = 0xff;
    avr->flash[at + 1] = 0xcf;
    avr->sreg[S_I] = 0;
    avr->pc = at;
  } else if (!strcmp(e->what, "end")) {
    return false;
  } else {
    fprintf(stderr, "board: the script does not know %s\n", e->what);
    exit(2);
  }
  return true;
}

static int open_pty(void) {
  int master, slave;
  char name[128];
  struct termios raw;
  if (openpty(&master, &slave, name, NULL, NULL) < 0) {
    perror("board: a pseudo-terminal");
    exit(1);
  }
  tcgetattr(slave, &raw);
  cfmakeraw(&raw);
  tcsetattr(slave, TCSANOW, &raw);
  fcntl(master, F_SETFL, O_NONBLOCK);
  // The other side stays open here, so that a reader may come and go.
  fprintf(stderr, "pty %s\n", name);
  fflush(stderr);
  return master;
}

// keep_time waits until the board's clock is no longer ahead of the wall's.
static void keep_time(void) {
  static struct timespec began;
  static uint64_t from;
  struct timespec now;
  clock_gettime(CLOCK_MONOTONIC, &now);
  if (!began.tv_sec) {
    began = now;
    from = avr->cycle;
    return;
  }
  int64_t over = (int64_t)((avr->cycle - from) / (HZ / 1000000)) -
                 ((now.tv_sec - began.tv_sec) * 1000000LL + (now.tv_nsec - began.tv_nsec) / 1000);
  if (over > 500) usleep(over);
}

int main(int argc, char **argv) {
  bool pty = false;
  const char *program = NULL;
  for (int i = 1; i < argc; i++) {
    if (!strcmp(argv[i], "--pty")) {
      pty = true;
    } else {
      program = argv[i];
    }
  }
  elf_firmware_t firmware = {0};
  if (!program || elf_read_firmware(program, &firmware) != 0) {
    fprintf(stderr, "usage: board [--pty] PROGRAM < SCRIPT\n");
    return 2;
  }
  avr = avr_make_mcu_by_name("atmega328p");
  if (!avr) return 2;
  avr_init(avr);
  avr->frequency = HZ;
  avr_load_firmware(avr, &firmware);
  // What was never written reads as ones.
  uint8_t blank[1024];
  memset(blank, 0xff, sizeof blank);
  avr_eeprom_desc_t memory = {.ee = blank, .offset = 0, .size = sizeof blank};
  avr_ioctl(avr, AVR_IOCTL_EEPROM_SET, &memory);
  uint32_t flags = 0;
  avr_ioctl(avr, AVR_IOCTL_UART_GET_FLAGS('0'), &flags);
  flags &= ~(uint32_t)(AVR_UART_FLAG_STDIO | AVR_UART_FLAG_POLL_SLEEP);
  avr_ioctl(avr, AVR_IOCTL_UART_SET_FLAGS('0'), &flags);
  avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_UART_GETIRQ('0'), UART_IRQ_OUTPUT), written, NULL);
  avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_UART_GETIRQ('0'), UART_IRQ_OUT_XON), room, NULL);
  avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_UART_GETIRQ('0'), UART_IRQ_OUT_XOFF), no_room, NULL);
  avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('B'), 5), lamp, NULL);
  to_board = avr_io_getirq(avr, AVR_IOCTL_UART_GETIRQ('0'), UART_IRQ_INPUT);
  avr->data[0x54] = 1;
  levels();
  if (pty) line_fd = open_pty();

  struct event e;
  if (pty) fcntl(0, F_SETFL, O_NONBLOCK);
  int there = next_event(&e, pty);
  uint64_t held_since = 0, longest = 0, next_look = 0, received = 0;
  bool held = false;
  for (;;) {
    if (pty && avr->cycle >= next_look) {
      next_look = avr->cycle + HZ / 2000;
      keep_time();
      char come[64];
      ssize_t n = read(line_fd, come, sizeof come);
      if (!there) there = next_event(&e, pty);
      for (ssize_t i = 0; i < n; i++) cable[cable_put++ % sizeof cable] = come[i];
    }
    while (there > 0 && e.at <= avr->cycle) {
      if (!happen(&e)) goto end;
      there = next_event(&e, pty);
    }
    if (there < 0) break;
    if (rollers_next <= avr->cycle) turn_rollers();
    // A byte on its way takes ten bits of the usual 115200 a second.
    if (cable_taken < cable_put && may_receive && avr->cycle >= received) {
      avr_raise_irq(to_board, (uint8_t)cable[cable_taken++ % sizeof cable]);
      received = avr->cycle + HZ / 11520;
    }
    int state = avr_run(avr);
    if (state == cpu_Done || state == cpu_Crashed) {
      fprintf(stderr, "board: the program ended at cycle %llu\n", (unsigned long long)avr->cycle);
      return 1;
    }
    // The watchdog started it again.
    if (avr->pc == 0 && begun) {
      begun = false;
      levels();
    }
    // How long an edge may wait: interrupts are held from the first cycle without them.
    bool now_held = !avr->sreg[S_I];
    if (!begun) {
      begun = !now_held;
    } else if (now_held && !held) {
      held_since = avr->cycle;
    } else if (!now_held && held && avr->cycle - held_since > longest) {
      longest = avr->cycle - held_since;
    }
    held = now_held;
  }
end:
  fflush(stdout);
  fprintf(stderr, "cycles %llu bytes %llu longest %llu blinks %llu\n", (unsigned long long)avr->cycle,
          (unsigned long long)bytes, (unsigned long long)longest, (unsigned long long)blinks);
  return 0;
}
