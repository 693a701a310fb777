//! Compiles P1c in C and links SUNDIALS and SuiteSparse (Debian: `libsundials-dev`, `libsuitesparse-dev`).

fn main() {
    cc::Build::new()
        .files(["ida/equations.c", "ida/modes.c", "ida/run.c", "ida/kernel.c"])
        .include("/usr/include/suitesparse")
        .opt_level(3)
        .warnings(true)
        .compile("peers");
    for library in [
        "sundials_ida",
        "sundials_nvecserial",
        "sundials_sunlinsolklu",
        "sundials_sunlinsoldense",
        "sundials_sunmatrixdense",
        "sundials_sunmatrixsparse",
        "klu",
    ] {
        println!("cargo:rustc-link-lib={library}");
    }
    println!("cargo:rerun-if-changed=ida");
}
