/* What a sensor sends, and the buffer it waits in: plain C without a library, for any microcontroller.
 *
 * PROTOCOL.md describes the bytes. Nothing here waits, allocates, or divides by anything but powers of two and ten. */
#ifndef SENSOR_WIRE_H
#define SENSOR_WIRE_H

#include <stdint.h>

/* Bytes of a frame, and the most a line may need. */
enum { FRAME_BYTES = 14, LINE_BYTES = 48 };

/* One sample as it leaves the converter. */
struct wire_sample {
  uint16_t sequence;  /* counts every sample, also those that find the buffer full */
  uint32_t ticks_us;  /* when it was taken; wraps after 71.6 minutes */
  int32_t value;
};

/* CRC-16, polynomial 0x1021, from 0xFFFF. */
static inline uint16_t wire_check(const uint8_t* bytes, uint8_t count) {
  uint16_t check = 0xFFFF;
  for (uint8_t i = 0; i < count; ++i) {
    check = (uint16_t)(check ^ (uint16_t)((uint16_t)bytes[i] << 8));
    for (uint8_t bit = 0; bit < 8; ++bit)
      check = (uint16_t)((check & 0x8000u) != 0 ? (uint16_t)(check << 1) ^ 0x1021u : check << 1);
  }
  return check;
}

static inline uint8_t* wire_put(uint8_t* to, uint32_t number, uint8_t bytes) {
  for (uint8_t i = 0; i < bytes; ++i) *to++ = (uint8_t)(number >> (8 * i));
  return to;
}

/* The frame of a sample; always FRAME_BYTES long. */
static inline uint8_t wire_frame(const struct wire_sample* sample, uint8_t* frame) {
  uint8_t* at = frame;
  *at++ = 0xA7;
  *at++ = 0x3C;
  at = wire_put(at, sample->sequence, 2);
  at = wire_put(at, sample->ticks_us, 4);
  at = wire_put(at, (uint32_t)sample->value, 4);
  wire_put(at, wire_check(frame + 2, 10), 2);
  return FRAME_BYTES;
}

static inline uint8_t* wire_digits(uint8_t* to, uint32_t number) {
  uint8_t digits[10];
  uint8_t count = 0;
  do {
    digits[count++] = (uint8_t)('0' + number % 10u);
    number /= 10u;
  } while (number != 0);
  while (count > 0) *to++ = digits[--count];
  return to;
}

static inline uint8_t* wire_words(uint8_t* to, const char* text) {
  while (*text != '\0') *to++ = (uint8_t)*text++;
  return to;
}

/* The line of a sample, `seq=12,t_us=120000,v=512` and a line feed; its length. */
static inline uint8_t wire_line(const struct wire_sample* sample, uint8_t* line) {
  uint8_t* at = wire_words(line, "seq=");
  at = wire_digits(at, sample->sequence);
  at = wire_words(at, ",t_us=");
  at = wire_digits(at, sample->ticks_us);
  at = wire_words(at, ",v=");
  uint32_t size = (uint32_t)sample->value;
  if (sample->value < 0) {
    *at++ = '-';
    size = 0u - size;
  }
  at = wire_digits(at, size);
  *at++ = '\n';
  return (uint8_t)(at - line);
}

/* Samples between the interrupt that takes them and the loop that sends them: one writer, one reader, neither waits.
 * 32 of them last a third of a second at 100 Hz. */
enum { RING_SIZE = 32 };

struct wire_ring {
  struct wire_sample samples[RING_SIZE];
  volatile uint8_t written; /* counts up and wraps; only the interrupt changes it */
  volatile uint8_t read;    /* the same; only the loop changes it */
};

/* 0 when the ring is full: the sample is lost, and its sequence number tells the receiver. */
static inline uint8_t wire_ring_put(struct wire_ring* ring, const struct wire_sample* sample) {
  if ((uint8_t)(ring->written - ring->read) >= RING_SIZE) return 0;
  ring->samples[ring->written % RING_SIZE] = *sample;
  ring->written = (uint8_t)(ring->written + 1);
  return 1;
}

/* 0 when it is empty. */
static inline uint8_t wire_ring_take(struct wire_ring* ring, struct wire_sample* sample) {
  if (ring->written == ring->read) return 0;
  *sample = ring->samples[ring->read % RING_SIZE];
  ring->read = (uint8_t)(ring->read + 1);
  return 1;
}

/* The compare value of a timer that counts from 0 and starts anew after it, for `rate_hz` interrupts a second at `clock_hz` behind a
 * divider; 0 where that does not fit 16 bits or does not divide: choose another divider or rate, so that no fraction adds up. */
static inline uint16_t wire_timer_top(uint32_t clock_hz, uint16_t divider, uint16_t rate_hz) {
  const uint32_t ticks_hz = clock_hz / divider;
  if (rate_hz == 0 || ticks_hz * (uint32_t)divider != clock_hz || ticks_hz % rate_hz != 0) return 0;
  const uint32_t ticks = ticks_hz / rate_hz;
  return ticks < 2 || ticks > 65536u ? 0 : (uint16_t)(ticks - 1);
}

#endif
