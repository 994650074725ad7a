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
#include "server/multipart.hpp"

namespace lampside::server {

using Header = std::pair<std::string, std::string>;

struct Request {
  std::string method;                 ///< "GET", "POST", "HEAD"
  std::string path;                   ///< decoded, without the query; for people to read, never to open
  std::vector<std::string> segments;  ///< the path cut at its raw slashes, each part decoded: "/l/a%2Fb" is "l", "a/b"
  std::multimap<std::string, std::string> query;
  std::multimap<std::string, std::string> form;  ///< of the body, decoded
  std::vector<Upload> files;                     ///< of a multipart/form-data body
  std::map<std::string, std::string> headers;    ///< names in lower case
  std::map<std::string, std::string> cookies;
  [[nodiscard]] std::string header(const std::string& name) const;
  [[nodiscard]] std::string field(const std::string& name) const;  ///< form first, then query; empty if absent
};

/// A live stream (server-sent events): the server calls `next` four times a second until it returns false. `next` runs
/// where requests are handled, never at the same time as another request.
struct EventStream {
  std::function<bool(std::string& out)> next;  ///< appends what to send now (may be nothing)
};

struct Response {
  int status = 200;
  std::string content_type = "text/html; charset=utf-8";
  std::string body;
  std::vector<Header> headers;
  std::shared_ptr<EventStream> stream;  ///< set: the body is ignored
};

/// Called from one thread, one request after the other. One that throws is answered with 500.
using Handler = std::function<Response(const Request&)>;

struct Limits {
  std::size_t body = 64 * 1024;
  std::size_t upload = 24 * 1024 * 1024;  ///< a body with files in it
  int uploads = 3;                        ///< such bodies under way at once: each is held in memory
  std::size_t headers = 16 * 1024;        ///< request line and headers together
  std::size_t connections = 512;
  std::size_t streams = 384;  ///< live streams among the connections, so that some are always left for pages
  int idle_seconds = 20;
  int upload_seconds = 180;        ///< instead of the next for a body with files: a phone at the far end of the house
  int whole_request_seconds = 30;  ///< from its first byte to the last of its answer; no drip of bytes prolongs it
};

/// A running server. Destroying it stops it: no new connection, requests under way get their answer (up to two
/// seconds), streams end.
class Listener {
 public:
  virtual ~Listener() = default;
  [[nodiscard]] virtual int port() const = 0;
};

/// Starts serving. `address` "127.0.0.1", "0.0.0.0", "::1"; port 0 picks a free one. `always` goes with every
/// response, also with the refusals made below the handler (400, 405, 413, 414, 415, 431, 500, 503).
/// Errors: LISTEN_ADDRESS, LISTEN_BUSY (the port is taken), LISTEN_FAILED.
Result<std::unique_ptr<Listener>> listen(const std::string& address, int port, Handler handler, Limits limits = {},
                                         std::vector<Header> always = {});

}  // namespace lampside::server
