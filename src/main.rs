//! The program: the command line of the package.

#![forbid(unsafe_code)]

/// A fifth of the time of a cold run is saved by an allocator that gives each thread lists of its own.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> std::process::ExitCode {
    headlap::main()
}
