#include "server/multipart.hpp"

#include <algorithm>

#include "server/urlencoded.hpp"

namespace lampside::server {
namespace {

constexpr std::size_t kLongestHead = 4 * 1024;
constexpr std::size_t kLongestBoundary = 70;  // RFC 2046, 5.1.1

std::string lower(std::string_view s) {
  std::string out{s};
  for (char& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return out;
}

/// The value of ` name="..."` in a header's line. Browsers write a quote in a value as %22.
std::string parameter_of(std::string_view line, std::string_view name) {
  for (std::size_t at = line.find(name); at != std::string_view::npos; at = line.find(name, at + 1)) {
    const bool begins = at > 0 && (line[at - 1] == ' ' || line[at - 1] == ';');
    const auto value = at + name.size();
    if (!begins || line.substr(value, 2) != "=\"") continue;
    const auto end = line.find('"', value + 2);
    if (end == std::string_view::npos) return {};
    return std::string{line.substr(value + 2, end - value - 2)};
  }
  return {};
}

Problem malformed() { return {"FORM_MULTIPART", "this form did not arrive whole", "go back and send it again"}; }

}  // namespace

std::string boundary_of(std::string_view content_type) {
  if (!lower(content_type).starts_with("multipart/form-data")) return {};
  const auto at = lower(content_type).find("boundary=");
  if (at == std::string::npos) return {};
  auto value = content_type.substr(at + 9);
  value = value.substr(0, value.find(';'));
  if (value.size() >= 2 && value.front() == '"' && value.back() == '"') value = value.substr(1, value.size() - 2);
  return value.size() > kLongestBoundary ? std::string{} : std::string{value};
}

Result<Multipart> parse_multipart(std::string_view body, std::string_view boundary) {
  const FormLimits limits;
  if (boundary.empty()) return tl::unexpected(malformed());
  const std::string first = "--" + std::string(boundary), between = "\r\n" + first;
  if (!body.starts_with(first)) return tl::unexpected(malformed());
  body.remove_prefix(first.size());
  Multipart out;
  while (!body.starts_with("--")) {
    if (!body.starts_with("\r\n")) return tl::unexpected(malformed());
    body.remove_prefix(2);
    const auto head_end = body.find("\r\n\r\n");
    if (head_end == std::string_view::npos || head_end > kLongestHead) return tl::unexpected(malformed());
    std::string_view disposition;
    for (auto head = body.substr(0, head_end); !head.empty();) {
      const auto line = head.substr(0, head.find("\r\n"));
      if (lower(line.substr(0, 20)) == "content-disposition:") disposition = line;
      head.remove_prefix(std::min(line.size() + 2, head.size()));
    }
    body.remove_prefix(head_end + 4);
    const auto end = body.find(between);
    if (end == std::string_view::npos) return tl::unexpected(malformed());
    const auto content = body.substr(0, end);
    body.remove_prefix(end + between.size());

    const auto name = parameter_of(disposition, "name");
    if (name.empty()) return tl::unexpected(malformed());
    if (out.fields.size() + out.files.size() >= limits.fields)
      return problem("FORM_TOO_MANY", "this form has too many fields", "go back and open the page again");
    if (disposition.find("filename=") != std::string_view::npos) {
      if (!content.empty()) out.files.push_back({name, parameter_of(disposition, "filename"), std::string{content}});
      continue;
    }
    if (name.size() > limits.name || content.size() > limits.value)
      return problem("FORM_TOO_LONG", "a field of this form is too long", "write less, in several notes");
    if (!valid_utf8(name) || !valid_utf8(content) || content.find('\0') != std::string_view::npos)
      return problem("FORM_UTF8", "a field of this form is not text", "type it again");
    out.fields.emplace(name, std::string{content});
  }
  return out;
}

}  // namespace lampside::server
