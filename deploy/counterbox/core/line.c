#include "line.h"

#include "port.h"

static uint16_t sum = 0xffff;

static void put(uint8_t byte) {
  while (!port_send(byte)) {
  }
}

void line_char(char c) {
  // CRC-16/IBM-3740, a byte at a time without a table: the six exclusive-ors that a byte
  // makes of the polynomial x^16 + x^12 + x^5 + 1.
  uint8_t x = (uint8_t)(sum >> 8) ^ (uint8_t)c;
  x ^= x >> 4;
  sum = (uint16_t)(sum << 8) ^ ((uint16_t)x << 12) ^ ((uint16_t)x << 5) ^ x;
  put((uint8_t)c);
}

void line_text(text t) {
  for (char c; (c = text_at(t)) != 0; t++) line_char(c);
}

// Digits come by taking powers of ten away: small processors divide slowly.
void line_number(uint32_t n) {
  static const uint32_t large[] = {1000000000, 100000000, 10000000, 1000000, 100000};
  static const uint16_t small[] = {10000, 1000, 100, 10};
  uint8_t begun = 0;
  uint16_t rest;
  if (n > 65535) {
    for (uint8_t i = 0; i < 5; i++) {
      char digit = '0';
      for (; n >= large[i]; n -= large[i]) digit++;
      begun |= digit != '0';
      if (begun) line_char(digit);
    }
    // Up to 99999 is left, one digit more than two bytes hold.
    char digit = '0';
    for (; n >= 10000; n -= 10000) digit++;
    begun |= digit != '0';
    if (begun) line_char(digit);
  }
  rest = (uint16_t)n;
  for (uint8_t i = 0; i < 4; i++) {
    char digit = '0';
    for (; rest >= small[i]; rest -= small[i]) digit++;
    if (i == 0 && begun) continue; // the ten thousands stand there already
    begun |= digit != '0';
    if (begun) line_char(digit);
  }
  line_char((char)('0' + rest));
}

void line_ticks(uint16_t high, uint32_t low) {
  if (high == 0) {
    line_number(low);
    return;
  }
  static const uint64_t power[] = {100000000000000, 10000000000000, 1000000000000,
                                   100000000000,    10000000000,    1000000000};
  uint64_t n = (uint64_t)high << 32 | low;
  uint8_t begun = 0;
  for (uint8_t i = 0; i < 6; i++) {
    char digit = '0';
    for (; n >= power[i]; n -= power[i]) digit++;
    begun |= digit != '0';
    if (begun) line_char(digit);
  }
  // Nine digits are left, with their zeros.
  static const uint32_t rest[] = {100000000, 10000000, 1000000, 100000, 10000, 1000, 100, 10, 1};
  uint32_t m = (uint32_t)n;
  for (uint8_t i = 0; i < 9; i++) {
    char digit = '0';
    for (; m >= rest[i]; m -= rest[i]) digit++;
    line_char(digit);
  }
}

void line_end(void) {
  uint16_t of_line = sum;
  put('*');
  for (int8_t shift = 12; shift >= 0; shift -= 4) {
    uint8_t nibble = (of_line >> shift) & 15;
    put(nibble < 10 ? '0' + nibble : 'A' - 10 + nibble);
  }
  put('\n');
  sum = 0xffff;
}
