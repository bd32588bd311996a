/* A finger clip or a single-lead ECG front end on an ATmega328P: samples on a timer, sends over the serial port.
 *
 * Wiring: the sensor's analogue output, 0 to the supply voltage, on ADC0. An optical sensor and a single-lead ECG front end differ in nothing here
 * but SAMPLE_RATE_HZ: 100 for a pulse, 250 for an ECG.
 *
 *   avr-gcc -mmcu=atmega328p -DF_CPU=16000000UL -Os -std=c11 -o finger_clip.elf finger_clip.c
 *
 * ELECTRICAL CAUTIONS. A sensor on a person, and everything wired to it, runs from a battery; the computer that it is plugged into is a laptop on
 * its battery, with no charger, no projector cable and no wired network attached, or stands behind a certified isolator (IEC 60601-1). That holds
 * for electrodes above all: never join them to anything powered from the mains. At most 5 V; no bare wires; no electrodes on
 * broken skin, and none on anybody with an implanted device. This is a teaching device and measures for no medical purpose. */
#include <avr/interrupt.h>
#include <avr/io.h>

#include "sensor_wire.h"

#ifndef F_CPU
#define F_CPU 16000000UL
#endif
#ifndef SAMPLE_RATE_HZ
#define SAMPLE_RATE_HZ 100
#endif
#ifndef BAUD
#define BAUD 115200UL
#endif
/* 1: frames with a check sum; 0: lines that a person can read. */
#ifndef SEND_FRAMES
#define SEND_FRAMES 1
#endif

#define TIMER_DIVIDER 64
#define STEP_US (1000000UL / SAMPLE_RATE_HZ)
_Static_assert(F_CPU / TIMER_DIVIDER % SAMPLE_RATE_HZ == 0, "the timer does not divide evenly: choose another rate");
_Static_assert(1000000UL % SAMPLE_RATE_HZ == 0, "a step of whole microseconds is needed: choose another rate");
/* Ten bits a byte; a fifth of the line stays free. */
_Static_assert(BAUD / 10 * 4 / 5 > (SEND_FRAMES ? FRAME_BYTES : 34) * (unsigned long)SAMPLE_RATE_HZ,
               "the serial port is too slow for this rate");

static struct wire_ring ring;

/* The timer's moment starts the converter by itself (auto trigger), so that no other interrupt can delay a sample; this runs
 * when the value is there, 0.1 ms later, always as late. */
ISR(ADC_vect) {
  static struct wire_sample sample;
  sample.value = (int32_t)ADC;
  (void)wire_ring_put(&ring, &sample);
  ++sample.sequence;
  sample.ticks_us += STEP_US;
  TIFR1 = _BV(OCF1B); /* lets the next compare trigger the converter again */
}

static void start_timer(void) {
  const uint16_t top = wire_timer_top(F_CPU, TIMER_DIVIDER, SAMPLE_RATE_HZ);
  TCCR1A = 0;
  OCR1A = top;
  OCR1B = top;
  TCCR1B = _BV(WGM12) | _BV(CS11) | _BV(CS10); /* counts to OCR1A, divider 64 */
}

static void start_converter(void) {
  ADMUX = _BV(REFS0);                              /* supply as reference, input 0 */
  DIDR0 = _BV(ADC0D);                              /* no digital input on this pin */
  ADCSRB = _BV(ADTS2) | _BV(ADTS0);                /* triggered by compare match B of timer 1 */
  ADCSRA = _BV(ADEN) | _BV(ADATE) | _BV(ADIE) | _BV(ADPS2) | _BV(ADPS1) | _BV(ADPS0);
}

static void start_serial(void) {
  UBRR0 = (uint16_t)((F_CPU + 4 * BAUD) / (8 * BAUD) - 1);
  UCSR0A = _BV(U2X0);
  UCSR0C = _BV(UCSZ01) | _BV(UCSZ00); /* 8 data bits, no parity, one stop bit */
  UCSR0B = _BV(TXEN0);
}

int main(void) {
  static uint8_t bytes[LINE_BYTES];
  uint8_t count = 0, sent = 0;
  start_serial();
  start_converter();
  start_timer();
  sei();
  for (;;) {
    if (sent < count) {
      if ((UCSR0A & _BV(UDRE0)) != 0) UDR0 = bytes[sent++];
      continue;
    }
    struct wire_sample sample;
    if (wire_ring_take(&ring, &sample) == 0) continue;
    count = SEND_FRAMES ? wire_frame(&sample, bytes) : wire_line(&sample, bytes);
    sent = 0;
  }
}
