//! The core behind the page: one request in, one answer out, both as JSON in memory that the page reads and writes.
//!
//! The page asks for [`room`], writes its request there, calls [`answer`], and reads [`length`] bytes.

mod answer;
mod request;

use std::cell::RefCell;

use headlap::Checker;

thread_local! {
    static REQUEST: RefCell<Vec<u8>> = const { RefCell::new(Vec::new()) };
    static ANSWER: RefCell<Vec<u8>> = const { RefCell::new(Vec::new()) };
    static CHECKER: Checker = Checker::stock();
}

/// Room for a request of so many bytes.
#[unsafe(no_mangle)]
pub extern "C" fn room(length: usize) -> *mut u8 {
    REQUEST.with_borrow_mut(|request| {
        request.clear();
        request.resize(length, 0);
        request.as_mut_ptr()
    })
}

/// Does what the request asks. The answer stays until the next one.
#[unsafe(no_mangle)]
pub extern "C" fn answer() -> *const u8 {
    let done = REQUEST.with_borrow(|request| CHECKER.with(|checker| answer::to(checker, request)));
    ANSWER.with_borrow_mut(|answer| {
        *answer = done;
        answer.as_ptr()
    })
}

/// The bytes of the answer.
#[unsafe(no_mangle)]
pub extern "C" fn length() -> usize {
    ANSWER.with_borrow(Vec::len)
}
