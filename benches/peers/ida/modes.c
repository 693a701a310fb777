/* Mode changes of P1c: control, contactor, bounces, arcs. */
#include "p1c.h"
#include <math.h>

#define PULL_IN (7.8 / 8)
#define DROP_OUT (3.0 / 8)

static const double CONTROL_TIMES[] = { 0.05, 1.2, INFINITY };

void at_rest(Drive *d)
{
    *d = (Drive){ .gap = { OPEN, CLOSED, OPEN, OPEN }, .phase = REST, .bounces = -1 };
}

/* A contact leaves its seat: it burns if it carries more than the open contact would at 16 V. */
static void part(Drive *d, int contact, const double *y)
{
    if (d->gap[contact] != CLOSED) return;
    double i = contact_current(d, contact, y);
    d->gap[contact] = fabs(i) > 1e-6 * 16 ? (i > 0 ? ARC_UP : ARC_DOWN) : OPEN;
}

static int seat(const Drive *d) { return d->phase == SEALED ? A_PLUS : A_MINUS; }

static void note(Drive *d, double t)
{
    if (d->events < 64) d->event_times[d->events] = t;
    d->events++;
}

static double stroke_end(const Drive *d)
{
    return d->phase == PULL || d->phase == RELEASE ? d->since + 12e-3 : INFINITY;
}

static double bounce_time(const Drive *d)
{
    return d->bounces < 0 ? INFINITY : d->closed_at + 0.5e-3 * (d->bounces + 1);
}

double next_time(const Drive *d)
{
    return fmin(fmin(CONTROL_TIMES[d->controls], stroke_end(d)), bounce_time(d));
}

void time_due(Drive *d, double t, const double *y)
{
    note(d, t);
    if (CONTROL_TIMES[d->controls] <= t) {
        if (d->controls == 0) d->gap[CONTROL] = CLOSED;
        else part(d, CONTROL, y);
        d->controls++;
    } else if (stroke_end(d) <= t) {
        d->phase = d->phase == PULL ? SEALED : REST;
        d->gap[seat(d)] = CLOSED;
        d->bounces = 0;
        d->closed_at = t;
    } else {
        if (d->bounces % 2 == 0) part(d, seat(d), y);
        else d->gap[seat(d)] = CLOSED;
        d->bounces = d->bounces == 5 ? -1 : d->bounces + 1;
    }
}

void guards(const Drive *d, double t, const double *y, double *out)
{
    static const int ends[CONTACTS][2] = { { VP, VMA }, { VMA, VN }, { VP, VMB }, { VBI, VK } };
    double ic = y[LAM] / inductance(d, t);
    out[0] = d->phase == REST ? ic - PULL_IN : -1;
    out[1] = d->phase == SEALED ? DROP_OUT - ic : -1;
    for (int k = 0; k < CONTACTS; k++) {
        double v = y[ends[k][0]] - y[ends[k][1]], *up = out + 2 + 2 * k, *down = up + 1;
        *up = *down = -1;
        if (d->gap[k] == OPEN) { *up = v - 16; *down = -v - 16; }
        if (d->gap[k] == ARC_UP) *up = -contact_current(d, k, y);
        if (d->gap[k] == ARC_DOWN) *up = contact_current(d, k, y);
    }
}

/* Says whether anything changed. */
int guard_fired(Drive *d, int guard, double t, const double *y)
{
    if (guard < 2) {
        if (d->phase != (guard == 0 ? REST : SEALED)) return 0;
        int contact = seat(d);
        d->phase = guard == 0 ? PULL : RELEASE;
        d->since = t;
        d->bounces = -1;
        part(d, contact, y);
        note(d, t);
        return 1;
    }
    int *gap = &d->gap[(guard - 2) / 2], down = guard % 2;
    if (*gap == CLOSED || (*gap != OPEN && down)) return 0;
    *gap = *gap == OPEN ? (down ? ARC_DOWN : ARC_UP) : OPEN;
    d->arcs++;
    return 1;
}
