/* The driver: IDA between events, three tiny implicit Euler steps after each. */
#include "run.h"
#include <ida/ida.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <stdlib.h>
#include <string.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <sunmatrix/sunmatrix_sparse.h>

#define END 1.5

struct Session {
    Options o;
    Drive drive, drive_at_rest;
    Sparsity pattern;
    SUNContext context;
    SUNMatrix matrix, restart_matrix;
    SUNLinearSolver solver, restart_solver;
    N_Vector y, yp, id, atol, delta, at;
    void *ida;
    double rest[N];
};

static int evaluate(double t, N_Vector y, N_Vector yp, N_Vector out, void *s)
{
    residual(&((Session *)s)->drive, t, NV_DATA_S(y), NV_DATA_S(yp), NV_DATA_S(out));
    return 0;
}

typedef struct { Session *s; double *entry; } Into;

static void put_dense(void *to, int r, int c, double v) { ((Into *)to)->entry[c * N + r] += v; }
static void put_sparse(void *to, int r, int c, double v)
{
    Into *into = to;
    into->entry[into->s->pattern.slot[r][c]] += v;
}

static int fill(Session *s, double t, double cj, const double *y, SUNMatrix m)
{
    Into into = { s, s->o.sparse ? SM_DATA_S(m) : SM_DATA_D(m) };
    memset(into.entry, 0, sizeof(double) * (s->o.sparse ? s->pattern.entries : N * N));
    if (s->o.sparse) {
        for (int i = 0; i <= N; i++) SM_INDEXPTRS_S(m)[i] = s->pattern.column[i];
        for (int i = 0; i < s->pattern.entries; i++) SM_INDEXVALS_S(m)[i] = s->pattern.row[i];
    }
    jacobian(&s->drive, t, cj, y, s->o.sparse ? put_sparse : put_dense, &into);
    return 0;
}

static int differentiate(double t, double cj, N_Vector y, N_Vector yp, N_Vector r, SUNMatrix m, void *s, N_Vector a,
                         N_Vector b, N_Vector c)
{
    (void)yp, (void)r, (void)a, (void)b, (void)c;
    return fill(s, t, cj, NV_DATA_S(y), m);
}

static int look(double t, N_Vector y, N_Vector yp, double *out, void *s)
{
    (void)yp;
    guards(&((Session *)s)->drive, t, NV_DATA_S(y), out);
    return 0;
}

/* One implicit Euler step from `y` to `t`, by full Newton; leaves derivatives of the states in `yp`. */
static int euler(Session *s, double t, double h, Stats *stats)
{
    double last = INFINITY, before[N], *y = NV_DATA_S(s->y), *yp = NV_DATA_S(s->yp);
    memcpy(before, y, sizeof before);
    for (int pass = 0; pass < 100; pass++) {
        double size = 0;
        for (int k = 0; k < N; k++) yp[k] = k < U1 ? 0 : (y[k] - before[k]) / h;
        residual(&s->drive, t, y, yp, NV_DATA_S(s->delta));
        fill(s, t, 1 / h, y, s->restart_matrix);
        stats->restart_newton++;
        if (SUNLinSolSetup(s->restart_solver, s->restart_matrix)) return -101;
        if (SUNLinSolSolve(s->restart_solver, s->restart_matrix, s->delta, s->delta, 0)) return -102;
        for (int k = 0; k < N; k++) {
            y[k] -= NV_Ith_S(s->delta, k);
            size = fmax(size, fabs(NV_Ith_S(s->delta, k)) / (fabs(y[k]) + SIZE[k]));
        }
        /* Small, or as small as rounding lets it be. */
        if (size < 1e-3 * s->o.rtol || (size < 1e-7 && size >= last)) {
            for (int k = U1; k < N; k++) yp[k] = (y[k] - before[k]) / h;
            return 0;
        }
        if (!(size < 1e9)) return -103;
        last = size;
    }
    return -104;
}

/* Consistent values after an event, and fires what the new mode already asks for. */
static int restart(Session *s, double *t, Stats *stats)
{
    double g[GUARDS], h = s->o.restart_step;
    for (int pass = 0, changed = 1; changed; pass++) {
        if (pass == 10) return -105;
        for (int k = 0; k < 3; k++, h *= 10) {
            *t += h;
            int flag = euler(s, *t, h, stats);
            if (flag) return flag;
        }
        h = s->o.restart_step;
        changed = 0;
        guards(&s->drive, *t, NV_DATA_S(s->y), g);
        for (int k = 0; k < GUARDS; k++)
            if (g[k] > 0) changed |= guard_fired(&s->drive, k, *t, NV_DATA_S(s->y));
    }
    int flag = IDAReInit(s->ida, *t, s->y, s->yp);
    if (s->o.first_step > 0) IDASetInitStep(s->ida, s->o.first_step);
    return flag ? flag : IDASetStopTime(s->ida, fmin(next_time(&s->drive), END));
}

static void add_counters(Session *s, Stats *stats)
{
    long steps, residuals, setups, failures, newton, stalls, jacobians;
    int order, next;
    double h0, h, hn, t;
    IDAGetIntegratorStats(s->ida, &steps, &residuals, &setups, &failures, &order, &next, &h0, &h, &hn, &t);
    IDAGetNonlinSolvStats(s->ida, &newton, &stalls);
    IDAGetNumJacEvals(s->ida, &jacobians);
    stats->steps += steps;
    stats->error_failures += failures;
    stats->newton += newton;
    stats->newton_failures += stalls;
    stats->jacobians += jacobians;
}

/* Samples up to `t` from IDA's interpolant. */
static int sample(Session *s, double t, int *point, double *samples)
{
    for (; *point < POINTS && END * (*point + 1) / POINTS <= t; ++*point) {
        int flag = IDAGetDky(s->ida, END * (*point + 1) / POINTS, 0, s->at);
        if (flag) return flag;
        const double *y = NV_DATA_S(s->at);
        double row[4] = { y[IM], y[OM], y[VK] - y[VN], y[VB] };
        memcpy(samples + 4 * *point, row, sizeof row);
    }
    return 0;
}

int p1c_run(Session *s, double *samples, Stats *stats)
{
    double t = 0;
    int point = 0, fired[GUARDS], flag;
    memset(stats, 0, sizeof *stats);
    s->drive = s->drive_at_rest;
    memcpy(NV_DATA_S(s->y), s->rest, sizeof s->rest);
    memset(NV_DATA_S(s->yp), 0, sizeof s->rest);
    if ((flag = IDAReInit(s->ida, t, s->y, s->yp)) || (flag = IDASetStopTime(s->ida, next_time(&s->drive)))) return flag;
    while (t < END) {
        flag = IDASolve(s->ida, END, &t, s->y, s->yp, IDA_ONE_STEP);
        if (flag >= 0) {
            int bad = sample(s, t, &point, samples);
            if (bad) flag = bad;
        }
        if (flag == IDA_SUCCESS) continue;
        add_counters(s, stats);
        /* A failure gets another chance from its last good values. */
        if (flag < 0 && (flag == IDA_TOO_MUCH_WORK || ++stats->rescues > s->o.rescues)) break;
        if (t >= END) { flag = 0; break; }
        if (flag == IDA_ROOT_RETURN) {
            IDAGetRootInfo(s->ida, fired);
            for (int k = 0; k < GUARDS; k++)
                if (fired[k]) guard_fired(&s->drive, k, t, NV_DATA_S(s->y));
        }
        while (flag >= 0 && next_time(&s->drive) <= t) time_due(&s->drive, t, NV_DATA_S(s->y));
        if ((flag = restart(s, &t, stats))) break;
    }
    /* The end may lie a rounding before the last point. */
    if (flag == 0 && point < POINTS) flag = -106;
    stats->flag = flag, stats->stopped_at = t;
    stats->events = s->drive.events, stats->arcs = s->drive.arcs;
    memcpy(stats->event_times, s->drive.event_times, sizeof stats->event_times);
    return flag;
}

static int keep(SUNLinearSolver solver) { (void)solver; return 0; }

static void quiet(int code, const char *m, const char *f, char *text, void *s) { (void)code, (void)m, (void)f, (void)text, (void)s; }

static SUNLinearSolver linear(Session *s, SUNMatrix *m)
{
    if (!s->o.sparse) {
        *m = SUNDenseMatrix(N, N, s->context);
        return SUNLinSol_Dense(s->y, *m, s->context);
    }
    *m = SUNSparseMatrix(N, N, s->pattern.entries, CSC_MAT, s->context);
    fill(s, 0, 1, s->rest, *m);
    return SUNLinSol_KLU(s->y, *m, s->context);
}

Session *p1c_open(const Options *o)
{
    Session *s = calloc(1, sizeof *s);
    Stats none = { 0 };
    s->o = *o;
    SUNContext_Create(NULL, &s->context);
    N_Vector *vectors[] = { &s->y, &s->yp, &s->id, &s->atol, &s->delta, &s->at };
    for (int k = 0; k < 6; k++) *vectors[k] = N_VNew_Serial(N, s->context);
    at_rest(&s->drive_at_rest);
    s->drive = s->drive_at_rest;
    sparsity(&s->pattern);
    for (int k = 0; k < N; k++) {
        NV_Ith_S(s->id, k) = k >= U1;
        NV_Ith_S(s->atol, k) = o->rtol * o->atol * SIZE[k];
    }
    s->solver = linear(s, &s->matrix);
    s->restart_solver = linear(s, &s->restart_matrix);
    /* Direct-current solution: two endless implicit Euler steps. */
    N_VConst(0, s->y);
    NV_Ith_S(s->y, VB) = 12.6, NV_Ith_S(s->y, TW) = 20;
    SUNLinSolInitialize(s->restart_solver);
    if (euler(s, 0, 1e6, &none) || euler(s, 0, 1e9, &none)) { p1c_close(s); return NULL; }
    memcpy(s->rest, NV_DATA_S(s->y), sizeof s->rest);
    N_VConst(0, s->yp);

    s->ida = IDACreate(s->context);
    IDASetErrHandlerFn(s->ida, quiet, NULL);
    IDAInit(s->ida, evaluate, 0, s->y, s->yp);
    IDASVtolerances(s->ida, o->rtol, s->atol);
    IDASetUserData(s->ida, s);
    IDASetId(s->ida, s->id);
    IDASetLinearSolver(s->ida, s->solver, s->matrix);
    IDASetJacFn(s->ida, differentiate);
    IDASetLinearSolutionScaling(s->ida, o->scale_solution);
    IDASetSuppressAlg(s->ida, o->suppress_algebraic);
    IDASetMaxOrd(s->ida, o->max_order);
    IDASetMaxStep(s->ida, o->max_step);
    IDASetNonlinConvCoef(s->ida, o->nonlinear);
    IDASetMaxNonlinIters(s->ida, o->newton_most);
    IDASetMaxConvFails(s->ida, 50);
    IDASetMaxErrTestFails(s->ida, 50);
    IDASetMaxNumSteps(s->ida, 200000);
    IDARootInit(s->ida, GUARDS, look);
    int up[GUARDS];
    for (int k = 0; k < GUARDS; k++) up[k] = 1;
    IDASetRootDirection(s->ida, up);
    IDASetNoInactiveRootWarn(s->ida);
    if (o->sparse && o->keep_analysis) {
        SUNLinSolInitialize(s->solver);
        fill(s, 0, 1e3, s->rest, s->matrix);
        SUNLinSolSetup(s->solver, s->matrix);
        s->solver->ops->initialize = keep;
    }
    return s;
}

void p1c_close(Session *s)
{
    if (s->ida) IDAFree(&s->ida);
    SUNLinSolFree(s->solver), SUNLinSolFree(s->restart_solver);
    SUNMatDestroy(s->matrix), SUNMatDestroy(s->restart_matrix);
    N_Vector vectors[] = { s->y, s->yp, s->id, s->atol, s->delta, s->at };
    for (int k = 0; k < 6; k++) N_VDestroy(vectors[k]);
    SUNContext_Free(&s->context);
    free(s);
}
