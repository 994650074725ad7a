// SHA-256 (FIPS 180-4, section 6.2): the name a picture is kept under, so that the same picture is one file.
#pragma once

#include <string>
#include <string_view>

namespace lampside::picture {

/// 64 hex digits, in lower case.
std::string sha256(std::string_view bytes);
/// Whether it may be such a name: then it is safe as a file's name too.
bool is_sha256(std::string_view text);

}  // namespace lampside::picture
