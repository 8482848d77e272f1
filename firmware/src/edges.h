/* Edges on their way from the captures to the main loop, in the order of their ticks. */
#ifndef BW_EDGES_H
#define BW_EDGES_H

#include <stdbool.h>
#include <stdint.h>

enum edge_kind {
  EDGE_PICKUP,
  EDGE_INDEX,
  EDGE_OPENING,
  EDGE_CLOSING,
  /* An edge that came too soon after another for its tick to be kept. */
  EDGE_LOST,
};

struct edge {
  uint32_t tick;
  uint8_t kind;
};

#define RING_SIZE 64 /* a power of two */

struct edge_ring {
  struct edge edge[RING_SIZE];
  volatile uint8_t head;
  volatile uint8_t tail;
  volatile bool overrun;
};

extern struct edge_ring pickup_edges;
extern struct edge_ring trigger_edges;

/* From one interrupt only. */
static inline void edges_push(struct edge_ring *ring, uint32_t tick, uint8_t kind) {
  uint8_t head = ring->head;
  uint8_t next = (uint8_t)(head + 1) & (RING_SIZE - 1);
  if (next == ring->tail) {
    ring->overrun = true;
    return;
  }
  ring->edge[head].tick = tick;
  ring->edge[head].kind = kind;
  ring->head = next;
}

/* The next edge of both; false where there is none so old that none before it can still come. */
bool edges_next(struct edge *edge);
/* True once after a ring ran over. */
bool edges_overran(void);

#endif
