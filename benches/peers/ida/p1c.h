/* P1c written a second time, in C: shares no line with benches/p1. Values: the problem's statement (benches/README.md). */
#ifndef P1C_H
#define P1C_H

enum { VB, VD, VBI, VBO, VC0, VC1, VC2, VP, VMA, VMB, VN, VR1, VR2, VG, VK, VA1, VA2, IB,
       U1, IL1, IM, IR, LAM, OM, TW, TH, N };
enum { A_PLUS, A_MINUS, B_PLUS, CONTROL, CONTACTS };
enum { CLOSED, OPEN, ARC_UP, ARC_DOWN };
enum { REST, PULL, SEALED, RELEASE };
enum { GUARDS = 2 + 2 * CONTACTS, POINTS = 2000, ENTRIES_MAX = 160 };

/* Discrete state of the drive. */
typedef struct {
    int gap[CONTACTS];
    int phase;
    double since;       /* start of the stroke */
    int controls;       /* control changes made */
    int bounces;        /* bounces made, -1 when none is pending */
    double closed_at;   /* first touch of the bouncing contact */
    int events, arcs;
    double event_times[64];
} Drive;

/* Pattern of dF/dy + cj dF/dy', by columns. */
typedef struct {
    int entries, column[N + 1], row[ENTRIES_MAX];
    int slot[N][N];
} Sparsity;

extern const double STORAGE[N];
extern const double SIZE[N];

double inductance(const Drive *, double t);
double contact_current(const Drive *, int contact, const double *y);
void residual(const Drive *, double t, const double *y, const double *yp, double *out);
void sparsity(Sparsity *);
/* `put(to, row, column, value)` adds up; every entry of the pattern is put. */
typedef void Put(void *to, int row, int column, double value);
void jacobian(const Drive *, double t, double cj, const double *y, Put *put, void *to);

void at_rest(Drive *);
void guards(const Drive *, double t, const double *y, double *out);
double next_time(const Drive *);
void time_due(Drive *, double t, const double *y);
int guard_fired(Drive *, int guard, double t, const double *y);

#endif
