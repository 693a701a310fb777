/* Residual and analytic Jacobian of P1c. */
#include "p1c.h"
#include <math.h>
#include <string.h>

#define G_CLOSED (1 / 0.4e-3)
#define G_OPEN 1e-6
#define G_ARC 20.0
#define V_ARC 16.0

const double STORAGE[N] = { [U1] = 500, [IL1] = 4e-6, [IM] = 120e-6, [IR] = 2e-6, [LAM] = 1, [OM] = 0.004,
                            [TW] = 120, [TH] = 8 };
/* Sizes for the error weights: those that the library under test is given too. */
const double SIZE[N] = { 12.6, 12.6, 12.6, 12.6, 12.6, 12.6, 12.6, 12.6, 12.6, 12.6, 12.6, 12.6, 12.6, 12.6, 12.6, 12.6,
                         12.6, 183, 1, 183, 183, 183, 0.05, 166, 100, 1 };
static const int ENDS[CONTACTS][2] = { { VP, VMA }, { VMA, VN }, { VP, VMB }, { VBI, VK } };

/* Constant resistors between nodes. */
static const struct { int a, b; double g; } RESISTORS[] = {
    { VB, VD, 1 / 0.3e-3 }, { VD, VBI, 1 / 0.2e-3 }, { VBI, VBO, 1 / 1e-3 }, { VBO, VC0, 1 / 0.2e-3 },
    { VC0, VC1, 1 / 4e-3 }, { VC2, VP, 1 / 0.2e-3 }, { VN, VR1, 1 / 2e-3 }, { VR2, VG, 1 / 0.2e-3 },
    { VMB, VN, G_CLOSED } };
enum { RESISTOR_COUNT = sizeof RESISTORS / sizeof RESISTORS[0] };

double inductance(const Drive *d, double t)
{
    double u = fmin(fmax((t - d->since) / 12e-3, 0), 1);
    if (d->phase == REST) u = 0;
    if (d->phase == SEALED) u = 1;
    if (d->phase == RELEASE) u = 1 - u;
    return 30e-3 + 20e-3 * u * u * (3 - 2 * u);
}

static void contact_law(int gap, double v, double *i, double *slope)
{
    double shift = gap == ARC_UP ? V_ARC : gap == ARC_DOWN ? -V_ARC : 0;
    *slope = gap == CLOSED ? G_CLOSED : gap == OPEN ? G_OPEN : G_ARC;
    *i = *slope * (v - shift);
}

double contact_current(const Drive *d, int contact, const double *y)
{
    double i, slope;
    contact_law(d->gap[contact], y[ENDS[contact][0]] - y[ENDS[contact][1]], &i, &slope);
    return i;
}

static void diode(double v, double *i, double *slope)
{
    double e = 1e-10 * exp(fmin(v, 1.2) / 0.0414);
    *slope = e / 0.0414;
    *i = e - 1e-10 + *slope * (v - fmin(v, 1.2));
}

static void flow(double *out, int a, int b, double i) { out[a] += i; out[b] -= i; }

void residual(const Drive *d, double t, const double *y, const double *yp, double *out)
{
    double i, slope, ic = y[LAM] / inductance(d, t);
    double ra = 25e-3 * (1 + 0.0039 * (y[TW] - 20));
    memset(out, 0, N * sizeof *out);
    for (int k = 0; k < RESISTOR_COUNT; k++)
        flow(out, RESISTORS[k].a, RESISTORS[k].b, RESISTORS[k].g * (y[RESISTORS[k].a] - y[RESISTORS[k].b]));
    for (int k = 0; k < CONTACTS; k++) flow(out, ENDS[k][0], ENDS[k][1], contact_current(d, k, y));
    diode(y[VN] - y[VK], &i, &slope);
    flow(out, VN, VK, i);
    flow(out, VK, VN, ic);
    flow(out, VMA, VA1, (y[VMA] - y[VA1]) / ra);
    flow(out, VC1, VC2, y[IL1]);
    flow(out, VR1, VR2, y[IR]);
    out[VB] -= y[IB];
    out[VA1] += y[IM];
    out[VMB] -= y[IM];
    out[VG] += y[VG] / 20e-3;
    /* The node between La and the back-EMF would only say that IM is IM: the EMF's own equation takes its row. */
    out[VA2] = y[VA2] - y[VMB] - 0.045 * y[OM] - 0.8 * tanh(y[IM]);
    out[IB] = y[VB] - 12.6 + 8e-3 * y[IB] + y[U1];
    out[U1] = y[U1] / 4e-3 - y[IB];
    out[IL1] = y[VC2] - y[VC1];
    out[IM] = y[VA2] - y[VA1];
    out[IR] = y[VR2] - y[VR1];
    out[LAM] = 8 * ic + y[VN] - y[VK];
    out[OM] = 2e-4 * y[OM] + 3 * tanh(y[OM] / 0.5) - 0.045 * y[IM];
    out[TW] = (y[TW] - 20) / 1.5 - ra * y[IM] * y[IM];
    out[TH] = y[TH] - pow((y[VBI] - y[VBO]) / 1e-3 / 100, 2);
    for (int k = U1; k < N; k++) out[k] += STORAGE[k] * yp[k];
}

static void bridge(Put *put, void *to, int a, int b, double g)
{
    put(to, a, a, g); put(to, a, b, -g); put(to, b, a, -g); put(to, b, b, g);
}

void jacobian(const Drive *d, double t, double cj, const double *y, Put *put, void *to)
{
    double i, slope, l = inductance(d, t), ra = 25e-3 * (1 + 0.0039 * (y[TW] - 20));
    double by_temperature = -(y[VMA] - y[VA1]) / (ra * ra) * 25e-3 * 0.0039;
    double brush = tanh(y[IM]), load = tanh(y[OM] / 0.5), hot = (y[VBI] - y[VBO]) / 1e-3 / 100;
    for (int k = 0; k < RESISTOR_COUNT; k++) bridge(put, to, RESISTORS[k].a, RESISTORS[k].b, RESISTORS[k].g);
    for (int k = 0; k < CONTACTS; k++) {
        contact_law(d->gap[k], 0, &i, &slope);
        bridge(put, to, ENDS[k][0], ENDS[k][1], slope);
    }
    diode(y[VN] - y[VK], &i, &slope);
    bridge(put, to, VN, VK, slope);
    bridge(put, to, VMA, VA1, 1 / ra);
    put(to, VMA, TW, by_temperature); put(to, VA1, TW, -by_temperature);
    put(to, VK, LAM, 1 / l); put(to, VN, LAM, -1 / l);
    put(to, VC1, IL1, 1); put(to, VC2, IL1, -1);
    put(to, VR1, IR, 1); put(to, VR2, IR, -1);
    put(to, VB, IB, -1); put(to, VA1, IM, 1); put(to, VMB, IM, -1);
    put(to, VG, VG, 1 / 20e-3);
    put(to, VA2, VA2, 1); put(to, VA2, VMB, -1); put(to, VA2, OM, -0.045); put(to, VA2, IM, -0.8 * (1 - brush * brush));
    put(to, IB, VB, 1); put(to, IB, IB, 8e-3); put(to, IB, U1, 1);
    put(to, U1, U1, 1 / 4e-3 + cj * 500); put(to, U1, IB, -1);
    put(to, IL1, VC2, 1); put(to, IL1, VC1, -1); put(to, IL1, IL1, cj * 4e-6);
    put(to, IM, VA2, 1); put(to, IM, VA1, -1); put(to, IM, IM, cj * 120e-6);
    put(to, IR, VR2, 1); put(to, IR, VR1, -1); put(to, IR, IR, cj * 2e-6);
    put(to, LAM, LAM, 8 / l + cj); put(to, LAM, VN, 1); put(to, LAM, VK, -1);
    put(to, OM, OM, 2e-4 + 6 * (1 - load * load) + cj * 0.004); put(to, OM, IM, -0.045);
    put(to, TW, TW, 1 / 1.5 - 25e-3 * 0.0039 * y[IM] * y[IM] + cj * 120); put(to, TW, IM, -2 * ra * y[IM]);
    put(to, TH, TH, 1 + cj * 8); put(to, TH, VBI, -2 * hot / 1e-3 / 100); put(to, TH, VBO, 2 * hot / 1e-3 / 100);
}

static void mark(void *to, int row, int column, double value)
{
    (void)value;
    ((Sparsity *)to)->slot[row][column] = 0;
}

void sparsity(Sparsity *s)
{
    Drive d;
    double y[N] = { 0 };
    memset(s->slot, -1, sizeof s->slot);
    at_rest(&d);
    jacobian(&d, 0, 1, y, mark, s);
    s->entries = 0;
    for (int c = 0; c < N; c++) {
        s->column[c] = s->entries;
        for (int r = 0; r < N; r++)
            if (s->slot[r][c] == 0) { s->slot[r][c] = s->entries; s->row[s->entries++] = r; }
    }
    s->column[N] = s->entries;
}
