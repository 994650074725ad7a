// The thread sanitizer sees fontconfig, Pango and GLib without their atomics (they are not built with it) and reports
// races inside them when the first form is printed. Nothing of ours is passed over.
#if defined(__SANITIZE_THREAD__)
extern "C" const char* __tsan_default_suppressions();
extern "C" const char* __tsan_default_suppressions() { return "race:libfontconfig.so\nrace:libpango\nrace:libglib\n"; }
#endif
