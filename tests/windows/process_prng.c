/* Debian's Wine has no bcryptprimitives.dll, from which Rust's standard library takes random bytes. This one
   stands in for it while tests run, and is never handed out. */
#include <windows.h>

BOOLEAN NTAPI SystemFunction036(PVOID bytes, ULONG count);

__declspec(dllexport) BOOL WINAPI ProcessPrng(PBYTE bytes, SIZE_T count) {
  return SystemFunction036(bytes, (ULONG)count);
}
