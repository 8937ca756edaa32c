fn main() -> std::process::ExitCode {
    headlap::cli::main()
}
