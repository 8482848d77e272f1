/*
 * ATmega2560 at 16 MHz. Pins, with their usual numbers on boards of that chip in brackets:
 *   PL0 ICP4 [49] pickup, rising      PL1 ICP5 [48] trigger, high while contacts are open
 *   PD2 INT2 [19] index track, rising, only with more than one pickup edge
 *   PC0 [37] guard, shut to ground    PC1 [36] stop input, closed to ground, opens when pressed
 *   PE3 OC3A [5] drive   PE4 OC3B [2] pump   PE5 OC3C [3] vent valve: full closes it, less bleeds
 *   PA0 [22] line valve opens         PA1 [23] turns anticlockwise   PA2 [24] drive on
 *   PF0 ADC0 [A0] vacuum sensor       PE0, PE1 [0, 1] serial line
 */
#include "board.h"

#include <avr/eeprom.h>
#include <avr/interrupt.h>
#include <avr/io.h>
#include <avr/sleep.h>
#include <avr/wdt.h>
#include <util/atomic.h>

#include "config.h"
#include "edges.h"
#include "safety.h"

#define LINE_VALVE _BV(PA0)
#define ANTICLOCKWISE _BV(PA1)
#define DRIVE_ON _BV(PA2)
/* Phase-correct, so that 0 is off without a spike; 250 Hz. */
#define PWM_TOP DRIVE_STEPS
#define CPU_HZ 16000000UL
#define SEND_SIZE 1024 /* a power of two */
#define RECEIVE_SIZE 256

static volatile uint16_t pickup_high;
static volatile uint16_t trigger_high;
static volatile bool index_mark;

static char send_ring[SEND_SIZE];
static volatile uint16_t send_head;
static volatile uint16_t send_tail;
static volatile uint8_t receive_ring[RECEIVE_SIZE];
static volatile uint8_t receive_head;
static volatile uint8_t receive_tail;

static volatile uint16_t sensor_sum;
static volatile uint8_t sensor_count;

static uint32_t boot_count;
static uint32_t chance;
static uint32_t EEMEM stored_boot_count;

void board_all_off(void) {
  PORTA &= (uint8_t)~(DRIVE_ON | LINE_VALVE);
  OCR3A = 0;
  OCR3B = 0;
  OCR3C = 0;
}

static void count_boot(void) {
  boot_count = eeprom_read_dword(&stored_boot_count) + 1;
  eeprom_update_dword(&stored_boot_count, boot_count);
}

void board_init(void) {
  MCUSR = 0;
  wdt_enable(WDTO_120MS);
  DDRA = LINE_VALVE | ANTICLOCKWISE | DRIVE_ON;
  PORTC = _BV(PC0) | _BV(PC1);
  TCCR3A = _BV(COM3A1) | _BV(COM3B1) | _BV(COM3C1) | _BV(WGM31);
  TCCR3B = _BV(WGM33) | _BV(CS30);
  ICR3 = PWM_TOP;
  board_all_off();
  DDRE = _BV(PE3) | _BV(PE4) | _BV(PE5);

  /* U2X before the rate, the frame before both. */
  UCSR0A = _BV(U2X0);
  UCSR0C = _BV(UCSZ01) | _BV(UCSZ00);
  UBRR0 = (uint16_t)((CPU_HZ + 4 * BAUD) / (8 * BAUD) - 1);
  UCSR0B = _BV(RXEN0) | _BV(TXEN0) | _BV(RXCIE0);

  ADMUX = _BV(REFS0);
  ADCSRA = _BV(ADEN) | _BV(ADSC) | _BV(ADPS2) | _BV(ADPS1) | _BV(ADPS0);

  /* Each millisecond. */
  TCCR0A = _BV(WGM01);
  OCR0A = CPU_HZ / 64 / 1000 - 1;
  TIMSK0 = _BV(OCIE0A);
  TCCR0B = _BV(CS01) | _BV(CS00);

#if EDGES > 1
  EICRA = _BV(ISC21) | _BV(ISC20);
  EIFR = _BV(INTF2);
  EIMSK = _BV(INT2);
#endif

  /* Both captures count the same ticks: the prescaler stands still while they are set to nought. */
  GTCCR = _BV(TSM) | _BV(PSRSYNC);
  TCCR4B = _BV(ICES4) | _BV(CS41);
  TCCR5B = _BV(CS51) | (PINL & _BV(PL1) ? 0 : _BV(ICES5));
  TCNT4 = 0;
  TCNT5 = 0;
  TIFR4 = _BV(ICF4) | _BV(TOV4);
  TIFR5 = _BV(ICF5) | _BV(TOV5);
  TIMSK4 = _BV(ICIE4) | _BV(TOIE4);
  TIMSK5 = _BV(ICIE5) | _BV(TOIE5);
  GTCCR = 0;
  count_boot();
}

void board_start(void) {
  set_sleep_mode(SLEEP_MODE_IDLE);
  sei();
}

/*
 * A capture and an overflow may both wait when the interrupt comes: a small capture then lies after the
 * overflow, a large one before it.
 */
static inline uint32_t whole_tick(uint16_t high, uint16_t low, bool overflowed) {
  if (overflowed && low < 0x8000) high++;
  return (uint32_t)high << 16 | low;
}

ISR(TIMER4_OVF_vect) { pickup_high++; }

ISR(TIMER5_OVF_vect) { trigger_high++; }

ISR(TIMER4_CAPT_vect) {
  uint16_t low = ICR4;
  uint32_t tick = whole_tick(pickup_high, low, TIFR4 & _BV(TOV4));
  bool is_index = EDGES == 1 || index_mark;
  edges_push(&pickup_edges, tick, is_index ? EDGE_INDEX : EDGE_PICKUP);
  if (is_index) {
    index_mark = false;
    safety_index(tick);
  }
}

ISR(TIMER5_CAPT_vect) {
  uint16_t low = ICR5;
  uint32_t tick = whole_tick(trigger_high, low, TIFR5 & _BV(TOV5));
  bool opened = TCCR5B & _BV(ICES5);
  TCCR5B ^= _BV(ICES5);
  /* A change of the edge to wait for may set the flag. */
  TIFR5 = _BV(ICF5);
  edges_push(&trigger_edges, tick, opened ? EDGE_OPENING : EDGE_CLOSING);
  bool is_open = PINL & _BV(PL1);
  if (is_open == opened || (TIFR5 & _BV(ICF5))) return;
  /* It went back before this interrupt could wait for that. */
  TCCR5B ^= _BV(ICES5);
  TIFR5 = _BV(ICF5);
  edges_push(&trigger_edges, tick, EDGE_LOST);
}

#if EDGES > 1
ISR(INT2_vect) { index_mark = true; }
#endif

ISR(TIMER0_COMPA_vect) {
  safety_millisecond();
  sensor_sum += ADC;
  sensor_count++;
  ADCSRA |= _BV(ADSC);
}

ISR(USART0_RX_vect) {
  uint8_t byte = UDR0;
  uint8_t next = (uint8_t)(receive_head + 1);
  if (next == receive_tail) return;
  receive_ring[receive_head] = byte;
  receive_head = next;
}

ISR(USART0_UDRE_vect) {
  uint16_t tail = send_tail;
  if (tail == send_head) {
    UCSR0B &= (uint8_t)~_BV(UDRIE0);
    return;
  }
  UDR0 = (uint8_t)send_ring[tail];
  send_tail = (tail + 1) & (SEND_SIZE - 1);
}

uint32_t board_ticks(void) {
  uint32_t tick;
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
    uint16_t low = TCNT4;
    tick = whole_tick(pickup_high, low, TIFR4 & _BV(TOV4));
  }
  return tick;
}

uint32_t board_boot_count(void) { return boot_count; }

/* When a person's command comes, to half a microsecond, and the sensor's last digits. */
uint32_t board_chance(void) {
  chance ^= board_ticks() + ((uint32_t)ADC << 16) + boot_count * 2654435761UL;
  for (uint8_t i = 0; i < 3; i++) {
    chance ^= chance << 13;
    chance ^= chance >> 17;
    chance ^= chance << 5;
  }
  return chance;
}

uint8_t board_inputs(void) {
  uint8_t pins = PINC;
  return (pins & _BV(PC0) ? GUARD_OPEN : 0) | (pins & _BV(PC1) ? STOP_PRESSED : 0);
}

static uint16_t duty(float share) { return (uint16_t)(share * PWM_TOP + 0.5f); }

void board_drive(float share, bool ccw) {
  uint16_t compare = duty(share);
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
    if (safety_trips == 0) {
      if (ccw) PORTA |= ANTICLOCKWISE;
      else PORTA &= (uint8_t)~ANTICLOCKWISE;
      OCR3A = compare;
      PORTA |= DRIVE_ON;
    }
  }
}

void board_drive_off(void) {
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
    PORTA &= (uint8_t)~DRIVE_ON;
    OCR3A = 0;
  }
}

static void set_line(float pump, float vent, bool open) {
  uint16_t pump_compare = duty(pump);
  uint16_t vent_compare = duty(vent);
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
    if (safety_trips == 0) {
      if (open) PORTA |= LINE_VALVE;
      else PORTA &= (uint8_t)~LINE_VALVE;
      OCR3B = pump_compare;
      OCR3C = vent_compare;
    }
  }
}

void board_vacuum_control(float pump, float bleed) { set_line(pump, 1 - bleed, true); }

void board_vacuum_hold(void) { set_line(0, 1, false); }

void board_vacuum_vent(void) { set_line(0, 0, false); }

float board_sensor_mv(void) {
  uint16_t sum;
  uint8_t count;
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
    sum = sensor_sum;
    count = sensor_count;
    sensor_sum = 0;
    sensor_count = 0;
  }
  /* A count stands for the voltages from itself to the next. */
  return count == 0 ? 0 : (sum + 0.5f * count) * (5000.0f / 1024) / count;
}

int16_t board_receive(void) {
  uint8_t tail = receive_tail;
  if (tail == receive_head) return -1;
  uint8_t byte = receive_ring[tail];
  receive_tail = (uint8_t)(tail + 1);
  return byte;
}

static uint16_t send_waiting(void) {
  uint16_t waiting;
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { waiting = (send_head - send_tail) & (SEND_SIZE - 1); }
  return waiting;
}

uint16_t board_send_room(void) { return SEND_SIZE - 1 - send_waiting(); }

void board_send(const char *bytes, uint8_t count) {
  uint16_t head = send_head;
  for (uint8_t i = 0; i < count; i++) {
    send_ring[head] = bytes[i];
    head = (head + 1) & (SEND_SIZE - 1);
  }
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
    send_head = head;
    UCSR0B |= _BV(UDRIE0);
  }
}

void board_alive(void) { wdt_reset(); }

void board_sleep(void) { sleep_mode(); }
