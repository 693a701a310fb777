/* KLU alone: analysis once, then refactorisation and solution. Called from Rust (`src/kernel.rs`). */
#include <klu.h>
#include <stdlib.h>
#include <string.h>

typedef struct {
    klu_common common;
    klu_symbolic *symbolic;
    klu_numeric *numeric;
    int n, *columns, *rows;
} Kernel;

void kernel_close(Kernel *k)
{
    klu_free_numeric(&k->numeric, &k->common);
    klu_free_symbolic(&k->symbolic, &k->common);
    free(k->columns), free(k->rows), free(k);
}

/* Keeps a copy of the pattern; `scale` is KLU's: -1 none, 1 sum, 2 largest. Null if it cannot be factorised. */
Kernel *kernel_open(int n, const int *columns, const int *rows, const double *values, int ordering, int scale)
{
    Kernel *k = calloc(1, sizeof *k);
    size_t entries = columns[n];
    klu_defaults(&k->common);
    k->common.ordering = ordering, k->common.scale = scale;
    k->n = n;
    k->columns = malloc((n + 1) * sizeof *columns), k->rows = malloc(entries * sizeof *rows);
    memcpy(k->columns, columns, (n + 1) * sizeof *columns), memcpy(k->rows, rows, entries * sizeof *rows);
    k->symbolic = klu_analyze(n, k->columns, k->rows, &k->common);
    if (k->symbolic) k->numeric = klu_factor(k->columns, k->rows, (double *)values, k->symbolic, &k->common);
    if (k->numeric) return k;
    kernel_close(k);
    return NULL;
}

/* Refactorises with these values and solves in place; non-zero if that was possible. */
int kernel_solve(Kernel *k, const double *values, double *b)
{
    return klu_refactor(k->columns, k->rows, (double *)values, k->symbolic, k->numeric, &k->common)
        && klu_solve(k->symbolic, k->numeric, k->n, 1, b, &k->common);
}

/* Entries of L and U. */
int kernel_fill(const Kernel *k) { return k->numeric->lnz + k->numeric->unz; }
