// The port for an 8-bit board at 16 MHz: sensors on port C, bits 0 to 5 as they are set,
// the start signal on bit 2 of port D (low is start, with the pull-up), the lamp on bit 5
// of port B, the line on the board's own serial port. Timer 1 runs freely at 2 MHz.
#include <avr/eeprom.h>
#include <avr/interrupt.h>
#include <avr/io.h>
#include <avr/wdt.h>

#include "box.h"
#include "edges.h"
#include "port.h"
#include "port_text.h"
#include "settings.h"

#define HZ 2000000

// The upper bits of the clock: how often the 16 bits of the timer went round.
static volatile uint16_t rounds;

ISR(TIMER1_OVF_vect) { rounds++; }

// ticks_inside reads the clock where interrupts are held. A round that is over and not
// counted yet shows in its flag, and then the timer stands low.
static inline uint32_t ticks_inside(void) {
  uint16_t low = TCNT1;
  uint16_t high = rounds;
  if ((TIFR1 & _BV(TOV1)) && low < 0x8000) high++;
  return (uint32_t)high << 16 | low;
}

uint32_t port_ticks(void) {
  cli();
  uint32_t t = ticks_inside();
  sei();
  return t;
}

// The sensors: which bits rise or fall at a mark, and what input a bit is of.
static uint8_t used, inverted, before;
static uint8_t input_of[6];

ISR(PCINT1_vect) {
  uint32_t t = ticks_inside();
  uint8_t level = (PINC ^ inverted) & used;
  uint8_t rose = level & (uint8_t)~before;
  before = level;
  for (uint8_t bit = 0; rose; bit++, rose >>= 1) {
    if (rose & 1) edges_saw(input_of[bit], t);
  }
}

// A pressed button chatters: after a start signal the next counts half a second later.
ISR(PCINT2_vect) {
  static uint32_t last;
  static bool any;
  uint32_t t = ticks_inside();
  if (PIND & _BV(2)) return;
  if (any && t - last < HZ / 2) return;
  any = true;
  last = t;
  edges_saw(START_INPUT, t);
}

// What came over the line, until the main loop takes it.
static volatile uint8_t come[64], come_put;
static uint8_t come_taken;

ISR(USART_RX_vect) {
  come[come_put & 63] = UDR0;
  come_put++;
}

bool port_send(uint8_t byte) {
  if (!(UCSR0A & _BV(UDRE0))) return false;
  UDR0 = byte;
  return true;
}

int16_t port_receive(void) {
  if (come_taken == come_put) return -1;
  return come[come_taken++ & 63];
}

uint8_t port_memory(uint8_t at, int16_t value) {
  uint8_t *where = (uint8_t *)(uint16_t)at;
  if (value >= 0) {
    wdt_reset(); // a byte takes 3.4 ms, and there may be a hundred
    eeprom_update_byte(where, (uint8_t)value);
  }
  return eeprom_read_byte(where);
}

void port_lamp(bool on) {
  if (on) {
    PORTB |= _BV(5);
  } else {
    PORTB &= (uint8_t)~_BV(5);
  }
}

static void begin_inputs(void) {
  used = inverted = 0;
  for (uint8_t i = 0; i < settings.inputs; i++) {
    uint8_t bit = _BV(settings.input[i].pin);
    used |= bit;
    if (settings.input[i].falling) inverted |= bit;
    input_of[settings.input[i].pin] = i;
  }
  DDRC = 0;
  PORTC = used; // with pull-ups: an open collector needs no resistor of its own
  PORTD |= _BV(2);
  DDRB |= _BV(5);
  before = (PINC ^ inverted) & used;
  PCMSK1 = used;
  PCMSK2 = _BV(PCINT18);
  PCICR = _BV(PCIE1) | _BV(PCIE2);
}

static void begin_line(void) {
  // Eight samples a bit: 1,000,000, 500,000 and 250,000 come out exact, and 115,200 is
  // 2.1 % off, within what a line of ten bits bears.
  UCSR0A = _BV(U2X0);
  UBRR0 = (uint16_t)((F_CPU / 8 + settings_baud() / 2) / settings_baud() - 1);
  UCSR0C = _BV(UCSZ01) | _BV(UCSZ00);
  UCSR0B = _BV(RXEN0) | _BV(TXEN0) | _BV(RXCIE0);
}

int main(void) {
  uint8_t cause = MCUSR;
  MCUSR = 0;
  wdt_enable(WDTO_500MS);
  bool kept = settings_load();
  edges_forget();
  TCCR1A = 0;
  TCCR1B = _BV(CS11);
  TIMSK1 = _BV(TOIE1);
  begin_line();
  begin_inputs();
  sei();
  text why = TEXT("power");
  if (cause & _BV(WDRF)) {
    why = TEXT("watchdog");
  } else if (cause & _BV(BORF) && !(cause & _BV(PORF))) {
    why = TEXT("low supply");
  } else if (cause & _BV(EXTRF) && !(cause & _BV(PORF))) {
    why = TEXT("reset key");
  }
  box_begin(HZ, why, kept);
  while (!box_step()) {
    wdt_reset();
  }
  for (;;) {
  } // the watchdog starts the board again
}
