#include "edges.h"

#include <stddef.h>

#include "board.h"

/* Beyond this age every edge has left its interrupt: half a millisecond. */
#define SETTLED_TICKS 1000

struct edge_ring pickup_edges;
struct edge_ring trigger_edges;

static const struct edge *front(const struct edge_ring *ring, uint32_t now) {
  if (ring->head == ring->tail) return NULL;
  const struct edge *edge = &ring->edge[ring->tail];
  /* Signed: an edge may have come since the time was read. */
  return (int32_t)(now - edge->tick) < SETTLED_TICKS ? NULL : edge;
}

static void drop(struct edge_ring *ring) {
  ring->tail = (uint8_t)(ring->tail + 1) & (RING_SIZE - 1);
}

bool edges_next(struct edge *edge) {
  uint32_t now = board_ticks();
  const struct edge *pickup = front(&pickup_edges, now);
  const struct edge *trigger = front(&trigger_edges, now);
  if (pickup == NULL && trigger == NULL) return false;
  /* In the same tick the index comes first: the event belongs to the turn that it begins (3.2.1). */
  bool first = trigger == NULL ||
               (pickup != NULL && (int32_t)(pickup->tick - trigger->tick) <= 0);
  struct edge_ring *ring = first ? &pickup_edges : &trigger_edges;
  *edge = first ? *pickup : *trigger;
  drop(ring);
  return true;
}

bool edges_overran(void) {
  bool overran = pickup_edges.overrun || trigger_edges.overrun;
  if (overran) pickup_edges.overrun = trigger_edges.overrun = false;
  return overran;
}
