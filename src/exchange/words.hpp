// Small helpers for names as keepers write them.
#pragma once

#include <string>
#include <string_view>

namespace lampside::exchange {

/// Without blanks (also no-break spaces) at both ends.
std::string_view trimmed(std::string_view text);

/// For comparing names: trimmed, and in lower case for A-Z and the accented Latin letters À to Þ.
std::string folded(std::string_view text);

/// The same text with every control character but the line end shown as "?": a file or a journal may come from
/// anybody, and a terminal obeys what it is sent.
std::string harmless(std::string_view text);

}  // namespace lampside::exchange
