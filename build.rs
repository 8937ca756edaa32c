//! The stock rules are built into the binary; a new file among them has to be noticed.

fn main() {
    println!("cargo:rerun-if-changed=build.rs");
    println!("cargo:rerun-if-changed=rules");
}
