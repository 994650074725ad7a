// A form with files in it (RFC 7578), cut apart. Pure, every size bounded.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "measure/result.hpp"

namespace lampside::server {

/// A file of a form. Its name and type are the sender's word: nothing is decided by them.
struct Upload {
  std::string field;
  std::string name;
  std::string bytes;
};
struct Multipart {
  std::multimap<std::string, std::string> fields;
  std::vector<Upload> files;  ///< empty ones (no file chosen) left out
};

/// The boundary named by a Content-Type of "multipart/form-data; boundary=..."; empty when it is none.
std::string boundary_of(std::string_view content_type);

/// At most 100 parts, fields as long as those of a plain form. Errors: FORM_MULTIPART (not of that form, or cut off),
/// FORM_TOO_MANY, FORM_TOO_LONG, FORM_UTF8.
Result<Multipart> parse_multipart(std::string_view body, std::string_view boundary);

}  // namespace lampside::server
