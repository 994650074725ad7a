// How the program asks the machine for memory.
#pragma once

namespace lampside::cli {

/// For commands that keep a whole journal at hand: one heap for all threads, begun large and on large pages, and given
/// back to the machine only in large pieces. Changes nothing but speed; where the C library has no such switches,
/// nothing.
void begin_large_heap();

}  // namespace lampside::cli
