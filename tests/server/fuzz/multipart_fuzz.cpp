// Any bytes as a form with files in it: an answer within the limits, and a file comes out as it went in. The first byte
// says what the rest is: a content type, a body, or a picture, which is looked at as one is that comes from a phone.
#include <cstdint>
#include <cstdlib>

#include "picture/picture.hpp"
#include "server/multipart.hpp"
#include "server/urlencoded.hpp"

namespace {

using namespace lampside;

void must(bool holds) {
  if (!holds) std::abort();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  const std::string_view bytes{reinterpret_cast<const char*>(data) + 1, size - 1};
  const auto kind = data[0] % 4;
  if (kind == 0) {
    must(server::boundary_of(bytes).size() <= 70);
  } else if (kind == 1) {
    const auto parts = server::parse_multipart(bytes, "B");
    if (!parts) {
      must(!parts.error().what.empty() && !parts.error().todo.empty());
      return 0;
    }
    const server::FormLimits limits;
    must(parts->fields.size() + parts->files.size() <= limits.fields);
    for (const auto& [name, value] : parts->fields)
      must(name.size() <= limits.name && value.size() <= limits.value && server::valid_utf8(value) &&
           value.find('\0') == std::string::npos);
    for (const auto& file : parts->files)
      must(!file.bytes.empty() && !file.field.empty() && file.bytes.find("\r\n--B") == std::string::npos);
  } else if (kind == 2) {
    if (bytes.find("\r\n--B") != std::string_view::npos || bytes.empty()) return 0;
    const std::string body = "--B\r\nContent-Disposition: form-data; name=\"picture\"; filename=\"x\"\r\n\r\n" +
                             std::string{bytes} + "\r\n--B--\r\n";
    const auto parts = server::parse_multipart(body, "B");
    must(parts && parts->files.size() == 1 && parts->files[0].bytes == bytes);
  } else if (const auto seen = picture::look(bytes); seen && seen->width * seen->height <= 1'000'000) {
    if (const auto clean = picture::clean(bytes)) must(picture::look(*clean).has_value());
  }
  return 0;
}
