/* P1c by IDA: called from Rust (`src/ida.rs`). */
#ifndef RUN_H
#define RUN_H
#include "p1c.h"

typedef struct {
    double rtol;
    double atol;            /* of a component: rtol * atol * its size */
    int sparse;             /* KLU instead of the dense solver */
    int keep_analysis;      /* KLU's analysis outlives restarts */
    int max_order;
    int suppress_algebraic;
    double max_step, first_step; /* 0: IDA's own choice */
    double restart_step;    /* first of three implicit Euler steps after an event, each ten times the last */
    double nonlinear;       /* factor of the Newton test, IDA's default 0.33 */
    int newton_most;        /* Newton iterations of a step, IDA's default 4 */
    int rescues;            /* restarts allowed after failures */
    int scale_solution;     /* of linear systems, for a changed step */
} Options;

typedef struct {
    long steps, error_failures, newton_failures, newton, jacobians, restart_newton;
    int events, arcs, flag, rescues;
    double stopped_at;
    double event_times[64];
} Stats;

typedef struct Session Session;
Session *p1c_open(const Options *);
int p1c_run(Session *, double *samples, Stats *); /* 0, or what failed */
void p1c_close(Session *);

#endif
