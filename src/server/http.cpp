#include "server/http.hpp"

namespace lampside::server {

std::string Request::header(const std::string& name) const {
  const auto found = headers.find(name);
  return found == headers.end() ? "" : found->second;
}

std::string Request::field(const std::string& name) const {
  if (const auto typed = form.find(name); typed != form.end()) return typed->second;
  const auto asked = query.find(name);
  return asked == query.end() ? "" : asked->second;
}

}  // namespace lampside::server
