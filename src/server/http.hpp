// The seam between Lampside and whatever library speaks HTTP: a Request comes in, a Response goes out.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "measure/result.hpp"

namespace lampside::server {

struct Request {
  std::string method;  ///< "GET", "POST", "HEAD"
  std::string path;    ///< decoded, without the query
  std::multimap<std::string, std::string> query;
  std::multimap<std::string, std::string> form;     ///< application/x-www-form-urlencoded body, decoded
  std::map<std::string, std::string> headers;       ///< names in lower case
  std::map<std::string, std::string> cookies;
  [[nodiscard]] std::string header(const std::string& name) const;
  [[nodiscard]] std::string field(const std::string& name) const;  ///< form first, then query; empty if absent
};

/// A live stream (server-sent events): the server calls `next` about twice a second until it returns false.
struct EventStream {
  std::function<bool(std::string& out)> next;  ///< appends what to send now (may be nothing)
};

struct Response {
  int status = 200;
  std::string content_type = "text/html; charset=utf-8";
  std::string body;
  std::vector<std::pair<std::string, std::string>> headers;
  std::shared_ptr<EventStream> stream;  ///< set: the body is ignored
};

using Handler = std::function<Response(const Request&)>;

struct Limits {
  std::size_t body = 64 * 1024;
  std::size_t headers = 16 * 1024;
  std::size_t connections = 64;
  int idle_seconds = 20;
  int whole_request_seconds = 30;
};

/// A running server. Destroying it stops it.
class Listener {
 public:
  virtual ~Listener() = default;
  [[nodiscard]] virtual int port() const = 0;
};

/// Starts serving. `address` "127.0.0.1", "0.0.0.0", "::1"; port 0 picks a free one.
/// Errors: LISTEN_ADDRESS, LISTEN_BUSY (the port is taken).
Result<std::unique_ptr<Listener>> listen(const std::string& address, int port, Handler handler, Limits limits = {});

}  // namespace lampside::server
