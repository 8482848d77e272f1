/*
 * Runs a firmware image cycle by cycle in simavr, in step with a simulated bench: each request says what
 * comes to the pins until a cycle, each reply what the pins did meanwhile. trial/imageBoard.ts is the other
 * end. All numbers little-endian, without padding.
 *
 * usage: harness IMAGE REQUESTS REPLIES [TRACE] (two pipes by name); ends when the requests do. TRACE: a file
 * for every change of the signals below, one a line: cycle, signal, level.
 */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <simavr/avr_adc.h>
#include <simavr/avr_extint.h>
#include <simavr/avr_ioport.h>
#include <simavr/avr_timer.h>
#include <simavr/avr_uart.h>
#include <simavr/sim_avr.h>
#include <simavr/sim_elf.h>
#include <simavr/sim_interrupts.h>

#define CPU_HZ 16000000
#define CYCLES_PER_TICK 8
/* Of a received byte, besides the one that is coming in. */
#define CHIP_PLACES 2
/* Where the main loop's jump is overwritten by one to itself, so that the watchdog must act. */
#define JUMP_TO_ITSELF 0xCFFF

struct __attribute__((packed)) request {
  uint64_t until_cycle;
  uint16_t edges;
  uint16_t bytes;
  uint16_t sensor_mv;
  uint8_t inputs; /* levels of PC0 and PC1 */
  uint8_t act; /* 0 nothing, 1 the processor hangs, 2 the power comes back */
};

struct __attribute__((packed)) edge {
  uint64_t cycle;
  uint8_t pin; /* 0 pickup, 1 trigger, 2 index track */
  uint8_t level;
};

struct __attribute__((packed)) reply {
  uint64_t cycle;
  /* When the drive was last switched off. */
  uint64_t off_cycle;
  uint16_t drive;
  uint16_t pump;
  uint16_t vent;
  uint8_t port_a;
  uint8_t resets;
  uint16_t late_edges;
  uint16_t longest_interrupt;
  uint16_t ram_used;
  /* Bytes from the host that the program did not fetch in time. */
  uint16_t overruns;
  uint16_t bytes;
};

static avr_t *avr;
static const char *const PIN_NAMES[3] = {"pickup", "trigger", "track"};
static avr_irq_t *pin_irq[3];
static avr_irq_t *receive_irq;
static avr_uart_t *uart;
/* Of pickup and trigger. */
static avr_timer_t *counters[2];
static FILE *requests;
static FILE *replies;
static FILE *trace;

static struct edge *edges;
static size_t edge_count, edge_next, edge_room;
static uint8_t incoming[65536];
static uint16_t incoming_from, incoming_to;
static uint8_t outgoing[65536];
static uint16_t outgoing_count;
static struct reply reply;
static uint32_t byte_cycles = CPU_HZ / 50000;
static avr_cycle_count_t interrupt_since;
static uint16_t interrupts_deep;
static uint32_t ram_from;

static void fail(const char *what) {
  fprintf(stderr, "harness: %s\n", what);
  exit(1);
}

static void traced(const char *signal, uint32_t level) {
  if (trace != NULL) fprintf(trace, "%" PRIu64 " %s %" PRIu32 "\n", (uint64_t)avr->cycle, signal, level);
}

/* The simulator would wait in real time; here the other end keeps the time. */
static void no_sleep(avr_t *a, avr_cycle_count_t cycles) {
  (void)a;
  (void)cycles;
}

/* Edges whose cycle has come, as many as there are: some coincide. */
static avr_cycle_count_t fire_edges(avr_t *a, avr_cycle_count_t when, void *param) {
  (void)when;
  (void)param;
  while (edge_next < edge_count && edges[edge_next].cycle <= a->cycle) {
    const struct edge *edge = &edges[edge_next++];
    /* An instruction of four cycles may be under way; more means that it came out of order. */
    if (a->cycle - edge->cycle > 64) reply.late_edges++;
    traced(PIN_NAMES[edge->pin], edge->level);
    avr_raise_irq(pin_irq[edge->pin], edge->level);
  }
  return edge_next < edge_count ? edges[edge_next].cycle : 0;
}

static avr_cycle_count_t receive_byte(avr_t *a, avr_cycle_count_t when, void *param) {
  (void)when;
  (void)param;
  if (incoming_from == incoming_to) return 0;
  uint8_t byte = incoming[incoming_from++];
  uart_fifo_t *fifo = &uart->input;
  uint16_t waiting = (uint16_t)((fifo->write - fifo->read) & (uart_fifo_fifo_size - 1));
  /*
   * The chip has two places, and tells of a byte when it has come; the simulator has 64, and counts a
   * byte's time from when the one before was fetched, so that a long line falls behind.
   */
  if (waiting < CHIP_PLACES) {
    avr_raise_irq(receive_irq, byte);
    avr_raise_interrupt(a, &uart->rxc);
  } else {
    reply.overruns++;
  }
  return a->cycle + byte_cycles;
}

static avr_cycle_count_t nothing(avr_t *a, avr_cycle_count_t when, void *param) {
  (void)a;
  (void)when;
  (void)param;
  return 0;
}

static void sent(struct avr_irq_t *irq, uint32_t value, void *param) {
  (void)irq;
  (void)param;
  traced("sent", value);
  if (outgoing_count < sizeof outgoing - 1) outgoing[outgoing_count++] = (uint8_t)value;
}

static void drive_pin(struct avr_irq_t *irq, uint32_t value, void *param) {
  (void)irq;
  (void)param;
  if (!value) reply.off_cycle = avr->cycle;
}

static void interrupt_runs(struct avr_irq_t *irq, uint32_t value, void *param) {
  (void)irq;
  (void)param;
  traced("interrupt", value);
  if (value) {
    if (interrupts_deep++ == 0) interrupt_since = avr->cycle;
  } else if (interrupts_deep > 0 && --interrupts_deep == 0) {
    avr_cycle_count_t took = avr->cycle - interrupt_since;
    if (took > reply.longest_interrupt && took < 65536) reply.longest_interrupt = (uint16_t)took;
  }
}

/* The data sheet clears the flags written as 1; the simulator clears them all. */
static void clear_written(avr_t *a, avr_io_addr_t addr, uint8_t value, void *param) {
  (void)addr;
  avr_timer_t *timer = param;
  avr_int_vector_t *vectors[2 + AVR_TIMER_COMP_COUNT] = {&timer->overflow, &timer->icr};
  for (int i = 0; i < AVR_TIMER_COMP_COUNT; i++) vectors[2 + i] = &timer->comp[i].interrupt;
  for (int i = 0; i < 2 + AVR_TIMER_COMP_COUNT; i++) {
    avr_int_vector_t *vector = vectors[i];
    if (vector->vector && vector->raised.reg && (value >> vector->raised.bit & 1)) {
      avr_clear_interrupt(a, vector);
    }
  }
}

static void mend_parts(void) {
  for (avr_io_t *io = avr->io_port; io; io = io->next) {
    if (strcmp(io->kind, "uart") == 0 && ((avr_uart_t *)io)->name == '0') uart = (avr_uart_t *)io;
    if (strcmp(io->kind, "timer") != 0) continue;
    avr_timer_t *timer = (avr_timer_t *)io;
    if (timer->name == '4' || timer->name == '5') counters[timer->name - '4'] = timer;
    if (!timer->overflow.raised.reg) continue;
    int at = AVR_DATA_TO_IO(timer->overflow.raised.reg);
    avr->io[at].w.c = clear_written;
    avr->io[at].w.param = timer;
  }
}

static uint16_t word_at(uint16_t address) {
  return (uint16_t)(avr->data[address] | avr->data[address + 1] << 8);
}

static void take(void *into, size_t size) {
  if (size > 0 && fread(into, size, 1, requests) != 1) exit(0);
}

/*
 * By how much the trigger's counter is late: the chip's prescaler reset starts both at once, which the
 * simulator does not know. Its pin is as late, so that the stamps are the chip's.
 */
static unsigned trigger_late(void) {
  return (unsigned)(counters[1]->tov_base - counters[0]->tov_base) & (CYCLES_PER_TICK - 1);
}

static void take_edges(uint16_t count) {
  memmove(edges, edges + edge_next, (edge_count - edge_next) * sizeof *edges);
  edge_count -= edge_next;
  edge_next = 0;
  if (edge_count + count > edge_room) {
    edge_room = edge_count + count + 1024;
    edges = realloc(edges, edge_room * sizeof *edges);
    if (edges == NULL) fail("out of memory");
  }
  for (uint16_t i = 0; i < count; i++) {
    struct edge edge;
    take(&edge, sizeof edge);
    if (edge.pin == 1) edge.cycle += trigger_late();
    size_t at = edge_count++;
    for (; at > 0 && edges[at - 1].cycle > edge.cycle; at--) edges[at] = edges[at - 1];
    edges[at] = edge;
  }
}

static void take_bytes(uint16_t count) {
  memmove(incoming, incoming + incoming_from, (size_t)(incoming_to - incoming_from));
  incoming_to = (uint16_t)(incoming_to - incoming_from);
  incoming_from = 0;
  if (incoming_to + count >= (int)sizeof incoming) fail("too many bytes from the host");
  take(incoming + incoming_to, count);
  incoming_to = (uint16_t)(incoming_to + count);
}

/* The instruction at hand becomes a jump to itself: only the watchdog helps. It is mended at the reset. */
static uint32_t hung_at;
static uint8_t hung_code[2];

static void hang(void) {
  if (avr->state == cpu_Sleeping) avr->state = cpu_Running;
  hung_at = avr->pc;
  memcpy(hung_code, avr->flash + hung_at, 2);
  avr->flash[hung_at] = JUMP_TO_ITSELF & 0xFF;
  avr->flash[hung_at + 1] = JUMP_TO_ITSELF >> 8;
}

static void (*core_reset)(avr_t *);

static void on_reset(avr_t *a) {
  if (hung_at != 0) memcpy(a->flash + hung_at, hung_code, 2);
  hung_at = 0;
  interrupts_deep = 0;
  reply.resets++;
  if (core_reset) core_reset(a);
}

/* What the host said to the board before is gone with the power; the spindle turns on. */
static void power_up(void) {
  avr_cycle_count_t now = avr->cycle;
  avr_reset(avr);
  avr->cycle = now;
  avr->state = cpu_Running;
  incoming_from = incoming_to = 0;
  reply.off_cycle = now;
}

static void run(uint64_t until) {
  if (edge_next < edge_count) {
    uint64_t first = edges[edge_next].cycle;
    avr_cycle_timer_cancel(avr, fire_edges, NULL);
    avr_cycle_timer_register(avr, first > avr->cycle ? first - avr->cycle : 1, fire_edges, NULL);
  }
  if (incoming_from < incoming_to && avr_cycle_timer_status(avr, receive_byte, NULL) == 0) {
    avr_cycle_timer_register(avr, byte_cycles, receive_byte, NULL);
  }
  if (until > avr->cycle) avr_cycle_timer_register(avr, until - avr->cycle, nothing, NULL);
  while (avr->cycle < until) {
    int state = avr_run(avr);
    if (state == cpu_Crashed || state == cpu_Done) fail("the firmware crashed");
  }
  avr_cycle_timer_cancel(avr, nothing, NULL);
}

static uint16_t ram_used(void) {
  uint32_t at = ram_from;
  while (at < avr->ramend && avr->data[at] == 0xA5) at++;
  return (uint16_t)(ram_from - 0x200 + (avr->ramend - at) + 1);
}

int main(int argc, char **argv) {
  if (argc != 4 && argc != 5) fail("usage: harness IMAGE REQUESTS REPLIES [TRACE]");
  /* First of all, so that whatever fails later is seen at the other end. */
  requests = fopen(argv[2], "rb");
  replies = fopen(argv[3], "wb");
  if (requests == NULL || replies == NULL) fail("the pipes cannot be opened");
  if (argc == 5 && (trace = fopen(argv[4], "w")) == NULL) fail("the trace cannot be written");
  elf_firmware_t firmware = {0};
  if (elf_read_firmware(argv[1], &firmware) != 0) fail("the image cannot be read");
  avr = avr_make_mcu_by_name("atmega2560");
  if (avr == NULL) fail("the simulator does not know the chip");
  avr_init(avr);
  firmware.frequency = CPU_HZ;
  firmware.vcc = firmware.avcc = firmware.aref = 5000;
  avr_load_firmware(avr, &firmware);
  avr->sleep = no_sleep;
  avr->log = LOG_ERROR;
  mend_parts();
  if (uart == NULL || counters[0] == NULL || counters[1] == NULL) fail("the simulator lacks a part of the chip");
  /* Else it looks at every cycle whether an interrupt of a level is due, though none is in use. */
  for (uint8_t i = 0; i < 8; i++) avr_extint_set_strict_lvl_trig(avr, i, 0);
  core_reset = avr->reset;
  avr->reset = on_reset;

  uint32_t flags = 0;
  avr_ioctl(avr, AVR_IOCTL_UART_GET_FLAGS('0'), &flags);
  flags &= ~(uint32_t)(AVR_UART_FLAG_STDIO | AVR_UART_FLAG_POOL_SLEEP);
  avr_ioctl(avr, AVR_IOCTL_UART_SET_FLAGS('0'), &flags);
  receive_irq = avr_io_getirq(avr, AVR_IOCTL_UART_GETIRQ('0'), UART_IRQ_INPUT);
  avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_UART_GETIRQ('0'), UART_IRQ_OUTPUT), sent, NULL);
  pin_irq[0] = avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('L'), 0);
  pin_irq[1] = avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('L'), 1);
  pin_irq[2] = avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('D'), 2);
  avr_irq_t *guard = avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('C'), 0);
  avr_irq_t *stop = avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('C'), 1);
  avr_irq_t *sensor = avr_io_getirq(avr, AVR_IOCTL_ADC_GETIRQ, ADC_IRQ_ADC0);
  avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('A'), 2), drive_pin, NULL);
  avr_irq_register_notify(avr_get_interrupt_irq(avr, AVR_INT_ANY) + AVR_INT_IRQ_RUNNING, interrupt_runs, NULL);

  ram_from = 0x200 + firmware.datasize + firmware.bsssize;
  memset(avr->data + ram_from, 0xA5, avr->ramend + 1 - ram_from);

  for (;;) {
    struct request request;
    take(&request, sizeof request);
    take_edges(request.edges);
    take_bytes(request.bytes);
    avr_raise_irq(guard, request.inputs & 1);
    avr_raise_irq(stop, request.inputs >> 1 & 1);
    avr_raise_irq(sensor, request.sensor_mv);
    if (request.act == 1) hang();
    if (request.act == 2) power_up();
    outgoing_count = 0;
    run(request.until_cycle);
    reply.cycle = avr->cycle;
    reply.port_a = avr->data[0x22];
    reply.drive = word_at(0x98);
    reply.pump = word_at(0x9A);
    reply.vent = word_at(0x9C);
    reply.ram_used = ram_used();
    reply.bytes = outgoing_count;
    fwrite(&reply, sizeof reply, 1, replies);
    fwrite(outgoing, outgoing_count, 1, replies);
    fflush(replies);
  }
}
