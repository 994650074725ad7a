// Reading what browsers send in addresses, forms and cookies. Pure: text in, text out, every size bounded.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "measure/result.hpp"

namespace lampside::server {

enum class Plus { is_plus, is_space };

/// "%41+" decoded. What comes out is valid UTF-8 without NUL, so that it may be stored and printed anywhere.
/// Errors: FORM_PERCENT (a % without two hex digits), FORM_NUL, FORM_UTF8.
Result<std::string> percent_decode(std::string_view text, Plus plus);

/// Everything but letters, digits and -._~ as %XX: safe in any part of an address.
std::string percent_encode(std::string_view text);

struct FormLimits {
  std::size_t fields = 100;
  std::size_t name = 64;          ///< bytes of a decoded name
  std::size_t value = 16 * 1024;  ///< bytes of a decoded value
};

/// The body of a form, or the query of an address: "a=1&b=x+y". Names may come more than once.
/// Errors: FORM_TOO_MANY, FORM_TOO_LONG, and those of percent_decode.
Result<std::multimap<std::string, std::string>> parse_form(std::string_view text, const FormLimits& limits = {});

/// The parts of a path that begins with '/', cut before decoding: "/l/a%2Fb" gives "l", "a/b". Empty parts at the end
/// are dropped ("/l/x/" is "l", "x"); "." and ".." are parts like any other.
/// Errors: PATH_FORM (does not begin with '/'), and those of percent_decode.
Result<std::vector<std::string>> parse_path(std::string_view path);

/// The Cookie header: "a=1; b=2". What is not of that form is passed over; of two with one name the first counts.
std::map<std::string, std::string> parse_cookies(std::string_view header);

/// True for valid UTF-8 (no overlong forms, no surrogates, nothing over U+10FFFF).
bool valid_utf8(std::string_view text);

}  // namespace lampside::server
