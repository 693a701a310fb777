//! Sparse square matrices of fixed pattern and their LU factors.
