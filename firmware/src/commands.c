#include "commands.h"

#include <avr/pgmspace.h>
#include <string.h>

#include "board.h"
#include "config.h"
#include "line.h"
#include "rig.h"

#define RAMP_MOST_TENTHS 20000UL

enum command { ASK, ARM, SPEED, VACUUM, HOLD, VENT, STOP };

struct request {
  enum command command;
  uint32_t number;
  /* The fields after the number are of their form. */
  bool is_whole;
  uint32_t token;
  bool ccw;
  uint32_t rpm_tenths;
  uint32_t ramp_tenths;
  uint32_t pascals;
};

/* The line that comes in. */
static char text[LINE_MAX + 1];
static uint8_t length;
static bool spoilt;

/* The last command taken or refused, and what was answered. */
static uint32_t last_number;
static char last_text[LINE_MAX];
/* In program memory; NULL: taken. */
static const char *last_reason;
static bool last_has_token;
static uint32_t last_token;

static void hello(uint32_t number) {
  line_begin(PSTR("hello"));
  line_field(number);
  line_field(1);
  line_text(PSTR("," BOARD_NAME));
  line_field(board_boot_count());
  line_field(TICK_HZ);
  line_field(TICK_PPM);
  line_field(1);
  line_field(EDGES);
  line_text(PSTR(",cw+ccw,"));
  line_tenths(MIN_RPM_TENTHS);
  line_comma();
  line_tenths(MAX_RPM_TENTHS);
  line_field(0);
  line_field(VACUUM_MAX_PA);
  line_text(PSTR(",guard+stop,0"));
  line_send();
}

void commands_greet(void) { hello(0); }

static void answer(uint32_t number, const char *reason, bool has_token, uint32_t token) {
  line_begin(reason == NULL ? PSTR("ok") : PSTR("no"));
  line_field(number);
  if (reason != NULL) {
    line_comma();
    line_text(reason);
  }
  if (has_token) {
    line_comma();
    line_hex(token);
  }
  line_send();
}

static bool command_of(const char *word, enum command *command) {
  static const char WORDS[][8] PROGMEM = {"ask", "arm", "speed", "vacuum", "hold", "vent", "stop"};
  for (uint8_t i = 0; i < sizeof WORDS / sizeof WORDS[0]; i++) {
    if (strcmp_P(word, WORDS[i]) != 0) continue;
    *command = (enum command)i;
    return true;
  }
  return false;
}

static bool read_direction(const char **at, bool *ccw) {
  char word[8];
  read_word(at, word);
  *ccw = strcmp_P(word, PSTR("ccw")) == 0;
  return *ccw || strcmp_P(word, PSTR("cw")) == 0;
}

/* Reads what follows the number. */
static bool read_rest(const char **at, struct request *request) {
  switch (request->command) {
    case ASK:
    case ARM:
    case VENT:
    case STOP:
      return true;
    case HOLD:
      return read_token(at, &request->token);
    case VACUUM:
      return read_token(at, &request->token) && read_whole(at, &request->pascals);
    case SPEED:
      return read_token(at, &request->token) && read_direction(at, &request->ccw) &&
             read_tenths(at, &request->rpm_tenths) && read_tenths(at, &request->ramp_tenths);
  }
  return false;
}

/* Why it is refused, in the order in which the rig looks (part 5, from 5.2); NULL: it is not. */
static const char *refusal(const struct request *request) {
  if (!request->is_whole) return PSTR("fields");
  uint8_t inputs = board_inputs();
  switch (request->command) {
    case ASK:
    case VENT:
    case STOP:
      return NULL;
    case ARM:
      if (inputs & GUARD_OPEN) return PSTR("guard-open");
      if (inputs & STOP_PRESSED) return PSTR("stop-input");
      return rig_latched() ? PSTR("latched") : NULL;
    default:
      break;
  }
  if (!rig_has_token()) return PSTR("not-armed");
  if (!rig_armed(request->token)) return PSTR("bad-token");
  if (request->command == SPEED) {
    uint32_t rpm = request->rpm_tenths;
    uint32_t ramp = request->ramp_tenths;
    if (rig_turning() && request->ccw != rig_is_ccw()) return PSTR("turning");
    bool holds = rpm == 0 || (rpm >= MIN_RPM_TENTHS && rpm <= MAX_RPM_TENTHS);
    return holds && ramp > 0 && ramp <= RAMP_MOST_TENTHS ? NULL : PSTR("range");
  }
  if (VACUUM_MAX_PA == 0) return PSTR("no-sensor");
  if (request->command == HOLD) return NULL;
  return request->pascals > 0 && request->pascals <= VACUUM_MAX_PA ? NULL : PSTR("range");
}

static void carry_out(const struct request *request) {
  switch (request->command) {
    case ASK:
    case STOP:
      rig_stop();
      rig_clear_fault();
      break;
    case ARM:
      last_token = rig_arm();
      last_has_token = true;
      break;
    case SPEED:
      rig_speed(request->ccw, request->rpm_tenths, request->ramp_tenths);
      break;
    case VACUUM:
      rig_vacuum(request->pascals);
      break;
    case HOLD:
      rig_hold();
      break;
    case VENT:
      rig_vent();
      break;
  }
}

/* True where the command is not new: answered as before or as too old (4.5 and 4.6). */
static bool settled(const struct request *request) {
  /* An ask starts anew whatever came before. */
  if (request->command == ASK || request->number > last_number) return false;
  if (request->number == last_number) {
    if (strcmp(text, last_text) == 0) {
      answer(last_number, last_reason, last_has_token, last_token);
      return true;
    }
    /* A stop is refused for a lower number only (4.4). */
    if (request->command == STOP) return false;
  }
  answer(request->number, PSTR("old-number"), false, 0);
  return true;
}

static void take(void) {
  const char *at = text;
  char word[8];
  read_word(&at, word);
  struct request request;
  if (strcmp_P(word, PSTR("alive")) == 0) {
    uint32_t token;
    if (read_token(&at, &token) && rig_armed(token)) rig_alive();
    return;
  }
  if (!command_of(word, &request.command)) return;
  if (!read_whole(&at, &request.number) || request.number == 0) return;
  request.is_whole = read_rest(&at, &request);
  if (settled(&request)) return;
  last_number = request.number;
  strcpy(last_text, text);
  last_has_token = false;
  last_reason = refusal(&request);
  if (last_reason == NULL) carry_out(&request);
  if (request.command == ASK) hello(request.number);
  else answer(request.number, last_reason, last_has_token, last_token);
}

static void end_line(void) {
  if (!spoilt) {
    if (length > 0 && text[length - 1] == '\r') length--;
    if (length > 0 && length < LINE_MAX && memchr(text, '\r', length) == NULL &&
        line_check(text, length)) {
      take();
    }
  }
  length = 0;
  spoilt = false;
}

void commands_take(void) {
  for (int16_t byte; (byte = board_receive()) >= 0;) {
    if (byte == '\n') end_line();
    else if ((byte < 0x20 && byte != '\r') || byte > 0x7E || length == LINE_MAX) spoilt = true;
    else text[length++] = (char)byte;
  }
}
