#include "turns.h"

#include <avr/pgmspace.h>

#include "board.h"
#include "config.h"
#include "line.h"

/* Twelve lobes with an opening and a closing each, and as many edges again of bounce or noise. */
#define EVENTS_MAX 48
/* Of eight lobes in one line; the longest such line has 230 bytes. */
#define EVENTS_A_LINE 16
#define PICKS_A_LINE 20
/* Room to leave for answers, which must come within 100 ms. */
#define ROOM_FOR_OTHERS (2 * LINE_MAX)
/* Of 25 `vac` and 10 `state` lines a second, with answers. */
#define OTHER_BYTES_PER_S 1900.0f
#define LINK_BYTES_PER_S (BAUD / 10.0f)

struct turn {
  uint32_t sequence;
  uint32_t index;
  uint32_t before;
  uint32_t during;
  uint32_t after;
  /* Ticks after the index, doubled, odd for a closing. */
  uint32_t event[EVENTS_MAX];
  uint8_t events;
  bool lost;
#if EDGES > 1
  uint32_t pick[EDGES];
  uint8_t picks;
  uint32_t last_pick;
#endif
};

static struct turn turn[3];
/* Under way, complete but for what comes after it, and on its way out. */
static struct turn *now = &turn[0];
static struct turn *complete = &turn[1];
static struct turn *leaving = &turn[2];
/* Index pulses since the spindle last stood still, as far as it matters. */
static uint8_t indexes;
static uint32_t sequence;
static uint8_t since_sent;
static uint8_t every = 1;
static uint16_t turn_bytes = 150 + (EDGES > 1 ? 6 * EDGES : 0);

/* Lines of the turn that leaves: which are out, and how many there are. */
static bool is_leaving;
static uint8_t leaving_every;
static uint8_t lines_out;
static uint8_t pick_lines;
static uint8_t rev_lines;
static uint16_t leaving_bytes;

static void begin(uint32_t tick) {
  now->sequence = sequence;
  now->index = tick;
  now->events = 0;
  now->lost = false;
#if EDGES > 1
  now->picks = 0;
  now->last_pick = tick;
#endif
}

static uint8_t lines_of(uint8_t items, uint8_t a_line) {
  return items == 0 ? 1 : (uint8_t)((items + a_line - 1) / a_line);
}

/* Of how many turns of this length the link carries one. Comes down only by a clear step. */
static uint8_t every_for(uint32_t during) {
  float left = 0.9f * LINK_BYTES_PER_S - OTHER_BYTES_PER_S;
  if (left < 0.2f * LINK_BYTES_PER_S) left = 0.2f * LINK_BYTES_PER_S;
  float share = turn_bytes * (float)TICK_HZ / (left * during);
  uint8_t needed = share < 1 ? 1 : share > 250 ? 251 : (uint8_t)share + 1;
  return needed >= every || needed <= 0.7f * every ? needed : every;
}

/* The turn whose times are all known now is sent, if it is its turn and the one before has left. */
static bool send_due(const struct turn *due) {
  since_sent++;
  /* The first turn after a standstill goes out in any case. */
  if (due->before > 0) {
    every = every_for(due->during);
    if (since_sent < every) return false;
  }
  if (is_leaving) return false;
  leaving_every = due->before > 0 ? since_sent : 1;
  since_sent = 0;
  return true;
}

static void index_at(uint32_t tick) {
  sequence++;
  if (indexes > 0) {
    now->during = tick - now->index;
#if EDGES > 1
    if (now->picks < EDGES) now->pick[now->picks++] = tick - now->last_pick;
    else now->lost = true;
    if (now->picks != EDGES) now->lost = true;
#endif
    struct turn *free = complete;
    if (indexes > 1) {
      complete->after = now->during;
      if (send_due(complete)) {
        free = leaving;
        leaving = complete;
        is_leaving = true;
        lines_out = 0;
        leaving_bytes = 0;
        rev_lines = lines_of(leaving->events, EVENTS_A_LINE);
        pick_lines = EDGES > 1 && !leaving->lost ? lines_of(EDGES, PICKS_A_LINE) : 0;
      }
      now->before = complete->during;
      complete = now;
      now = free;
    } else {
      now->before = 0;
      complete = now;
      now = free;
    }
  }
  if (indexes < 2) indexes++;
  begin(tick);
}

void turns_edge(const struct edge *edge) {
  if (edge->kind == EDGE_INDEX) {
    index_at(edge->tick);
    return;
  }
  if (indexes == 0) return;
  switch (edge->kind) {
#if EDGES > 1
    case EDGE_PICKUP:
      if (now->picks < EDGES) now->pick[now->picks++] = edge->tick - now->last_pick;
      else now->lost = true;
      now->last_pick = edge->tick;
      break;
#endif
    case EDGE_OPENING:
    case EDGE_CLOSING:
      if (now->events == EVENTS_MAX) now->lost = true;
      else now->event[now->events++] = (edge->tick - now->index) << 1 | (edge->kind == EDGE_CLOSING);
      break;
    case EDGE_LOST:
      now->lost = true;
      break;
  }
}

void turns_stood_still(void) {
  indexes = 0;
  since_sent = 0;
  every = 1;
}

void turns_lost(void) { now->lost = true; }

static void send_part(uint8_t part, uint8_t parts) {
  line_field(part);
  line_field(parts);
  line_comma();
}

#if EDGES > 1
static void send_picks(uint8_t part) {
  line_begin(PSTR("pick"));
  line_field(leaving->sequence);
  send_part(part + 1, pick_lines);
  uint8_t from = part * PICKS_A_LINE;
  for (uint8_t i = from; i < EDGES && i < from + PICKS_A_LINE; i++) {
    if (i > from) line_comma();
    line_whole(leaving->pick[i]);
  }
  leaving_bytes += line_send();
}
#endif

static void send_events(uint8_t part) {
  line_begin(PSTR("rev"));
  line_field(leaving->sequence);
  line_field(leaving->index);
  line_field(leaving->before);
  line_field(leaving->during);
  line_field(leaving->after);
  line_field(leaving->lost);
  line_field(leaving_every);
  send_part(part + 1, rev_lines);
  uint8_t from = part * EVENTS_A_LINE;
  for (uint8_t i = from; i < leaving->events && i < from + EVENTS_A_LINE; i++) {
    uint32_t event = leaving->event[i];
    line_char((char)('a' + (event & 1)));
    line_whole(event >> 1);
  }
  leaving_bytes += line_send();
}

bool turns_send(void) {
  if (!is_leaving || board_send_room() < ROOM_FOR_OTHERS) return false;
#if EDGES > 1
  if (lines_out < pick_lines) send_picks(lines_out);
  else
#endif
    send_events(lines_out - pick_lines);
  lines_out++;
  if (lines_out == pick_lines + rev_lines) {
    is_leaving = false;
    turn_bytes = leaving_bytes;
  }
  return true;
}
