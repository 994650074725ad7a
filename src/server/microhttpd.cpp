// The one file that knows libmicrohttpd. It turns connections into Requests and Responses into bytes, and keeps
// clients within the Limits. Why this library: docs/decisions/0007-http-library.md.
//
// One thread of the library reads, handles and writes; one of ours (the ticker) ends requests that are past their
// deadline, because the library only knows an inactivity time-out, and wakes the live streams, which sleep
// suspended between two looks and so cost no thread.
#include <arpa/inet.h>
#include <microhttpd.h>
#include <netinet/in.h>
#include <netinet/tcp.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <cerrno>
#include <chrono>
#include <condition_variable>
#include <cstdio>
#include <cstring>
#include <exception>
#include <mutex>
#include <optional>
#include <set>
#include <thread>

#include "server/http.hpp"
#include "server/urlencoded.hpp"

namespace lampside::server {
namespace {

using Clock = std::chrono::steady_clock;
constexpr auto kTick = std::chrono::milliseconds{250};
constexpr auto kGrace = std::chrono::seconds{2};  ///< for requests under way when the server stops
constexpr std::size_t kLongestTarget = 4 * 1024;
/// A body somewhat over the limit is read to its end and thrown away, because a client that is cut off while sending
/// often never sees the answer that tells why.
constexpr std::size_t kSwallowed = 16;

/// One connection, and the request under way on it. What the ticker reads too stands under Server::mutex_.
struct Peer {
  MHD_Connection* connection = nullptr;
  int fd = -1;
  Clock::time_point deadline;  // under the mutex
  bool busy = false;           // under the mutex: a request has begun and its answer is not yet sent
  bool streaming = false;      // under the mutex
  bool suspended = false;      // under the mutex

  std::string target;  ///< as sent, with the query
  bool begun = false;
  Request request;
  std::string body;
  std::size_t body_seen = 0;
  std::string boundary;  ///< of a body with files in it; empty: a plain form
  std::optional<Response> refusal;
};

Response refuse(int status, const std::string& why) {
  Response r;
  r.status = status;
  r.content_type = "text/plain; charset=utf-8";
  r.body = why + "\n";
  return r;
}

class Server;
/// What the library holds while it sends a live stream.
struct Stream {
  Server& server;
  Peer& peer;
  std::shared_ptr<EventStream> events;
  std::string pending;
  bool over = false;
};

class Server final : public Listener {
 public:
  Server(int socket, int port, Handler handler, Limits limits, std::vector<Header> always)
      : listening_{socket}, port_{port}, handler_{std::move(handler)}, limits_{limits}, always_{std::move(always)} {}
  Server(const Server&) = delete;
  Server& operator=(const Server&) = delete;
  ~Server() override { stop(); }
  [[nodiscard]] int port() const override { return port_; }

  bool start();

 private:
  void stop();
  void tick();
  void begin_request(Peer& peer, const char* method);
  MHD_Result take_body(Peer& peer, const char* data, std::size_t size);
  MHD_Result finish_request(Peer& peer);
  Response handled(Peer& peer);
  MHD_Result send(Peer& peer, const Response& response);
  ssize_t read_stream(Stream& stream, char* buffer, std::size_t room);

  static Server& self(void* cls) { return *static_cast<Server*>(cls); }
  static Peer& peer_of(MHD_Connection* c) {
    return *static_cast<Peer*>(MHD_get_connection_info(c, MHD_CONNECTION_INFO_SOCKET_CONTEXT)->socket_context);
  }
  static void on_connection(void* cls, MHD_Connection* c, void** context, MHD_ConnectionNotificationCode what);
  static void* on_target(void* cls, const char* target, MHD_Connection* c);
  static MHD_Result on_request(void* cls, MHD_Connection* c, const char*, const char* method, const char*,
                               const char* data, std::size_t* size, void**);
  static void on_completed(void* cls, MHD_Connection* c, void**, MHD_RequestTerminationCode);
  static ssize_t on_stream(void* cls, std::uint64_t, char* buffer, std::size_t room);
  static void on_stream_over(void* cls);

  int listening_;
  int port_;
  Handler handler_;
  Limits limits_;
  std::vector<Header> always_;
  MHD_Daemon* daemon_ = nullptr;

  std::mutex mutex_;
  std::condition_variable changed_;
  std::set<Peer*> peers_;
  bool stopping_ = false;
  bool ticker_over_ = false;
  std::atomic<std::size_t> streams_{0};
  std::atomic<int> uploads_{0};
  std::thread ticker_;
};

bool Server::start() {
  const auto keep_escapes = +[](void*, MHD_Connection*, char* s) { return std::strlen(s); };
  daemon_ = MHD_start_daemon(MHD_USE_EPOLL_INTERNAL_THREAD | MHD_ALLOW_SUSPEND_RESUME, 0, nullptr, nullptr,
                             &Server::on_request, this, MHD_OPTION_LISTEN_SOCKET, listening_,                  //
                             MHD_OPTION_CONNECTION_LIMIT, static_cast<unsigned>(limits_.connections),          //
                             MHD_OPTION_CONNECTION_TIMEOUT, static_cast<unsigned>(limits_.idle_seconds),       //
                             MHD_OPTION_CONNECTION_MEMORY_LIMIT, std::size_t{2 * limits_.headers + 8 * 1024},  //
                             MHD_OPTION_STRICT_FOR_CLIENT, 1,                                                  //
                             MHD_OPTION_UNESCAPE_CALLBACK, keep_escapes, nullptr,                              //
                             MHD_OPTION_NOTIFY_CONNECTION, &Server::on_connection, this,                       //
                             MHD_OPTION_NOTIFY_COMPLETED, &Server::on_completed, this,                         //
                             MHD_OPTION_URI_LOG_CALLBACK, &Server::on_target, this,                            //
                             MHD_OPTION_END);
  if (daemon_ == nullptr) return false;
  ticker_ = std::thread{[this] { tick(); }};
  return true;
}

void Server::stop() {
  if (daemon_ == nullptr) {
    ::close(listening_);
    return;
  }
  const int socket = MHD_quiesce_daemon(daemon_);
  if (socket >= 0) ::close(socket);
  {
    std::unique_lock lock{mutex_};
    stopping_ = true;
    // The ticker still runs here: it wakes the streams, which see `stopping_` and end.
    changed_.wait_for(lock, kGrace, [this] {
      return std::none_of(peers_.begin(), peers_.end(), [](const Peer* p) { return p->busy || p->streaming; });
    });
    ticker_over_ = true;
  }
  changed_.notify_all();
  ticker_.join();
  {
    std::lock_guard lock{mutex_};  // the library aborts when stopped with suspended connections
    for (Peer* p : peers_)
      if (std::exchange(p->suspended, false)) MHD_resume_connection(p->connection);
  }
  MHD_stop_daemon(daemon_);
}

void Server::tick() {
  std::unique_lock lock{mutex_};
  while (!ticker_over_) {
    changed_.wait_for(lock, kTick, [this] { return ticker_over_; });
    const auto now = Clock::now();
    for (Peer* p : peers_) {
      if (p->streaming) {
        if (std::exchange(p->suspended, false)) MHD_resume_connection(p->connection);
      } else if (now > p->deadline) {
        // Only shut, not closed: the library still owns the descriptor and closes it when it reads the end.
        ::shutdown(p->fd, SHUT_RDWR);
      }
    }
  }
}

void Server::on_connection(void* cls, MHD_Connection* c, void** context, MHD_ConnectionNotificationCode what) {
  auto& server = self(cls);
  std::lock_guard lock{server.mutex_};
  if (what == MHD_CONNECTION_NOTIFY_STARTED) {
    auto* peer = new Peer;  // freed in the other branch, which the library promises to call
    peer->connection = c;
    peer->fd = MHD_get_connection_info(c, MHD_CONNECTION_INFO_CONNECTION_FD)->connect_fd;
    peer->deadline = Clock::now() + std::chrono::seconds{server.limits_.whole_request_seconds};
    // A phone that walked out of reach: give its connection up after a minute of unanswered bytes.
    const unsigned patience_ms = 60'000;
    ::setsockopt(peer->fd, IPPROTO_TCP, TCP_USER_TIMEOUT, &patience_ms, sizeof patience_ms);
    server.peers_.insert(peer);
    *context = peer;
  } else {
    auto* peer = static_cast<Peer*>(*context);
    server.peers_.erase(peer);
    delete peer;
    *context = nullptr;
    server.changed_.notify_all();
  }
}

void* Server::on_target(void* cls, const char* target, MHD_Connection* c) {
  auto& server = self(cls);
  auto& peer = peer_of(c);
  peer.target = target;
  std::lock_guard lock{server.mutex_};
  peer.busy = true;
  peer.deadline = std::min(peer.deadline, Clock::now() + std::chrono::seconds{server.limits_.whole_request_seconds});
  return &peer;
}

void Server::on_completed(void* cls, MHD_Connection* c, void**, MHD_RequestTerminationCode) {
  auto& server = self(cls);
  auto& peer = peer_of(c);
  peer.target.clear();
  peer.begun = false;
  peer.request = {};
  if (!std::exchange(peer.boundary, {}).empty()) --server.uploads_;
  peer.body = {};  // gives a picture's memory back
  peer.body_seen = 0;
  peer.refusal.reset();
  std::lock_guard lock{server.mutex_};
  peer.busy = peer.streaming = peer.suspended = false;
  peer.deadline =
      Clock::now() + std::chrono::seconds{server.limits_.idle_seconds + server.limits_.whole_request_seconds};
  server.changed_.notify_all();
}

MHD_Result Server::on_request(void* cls, MHD_Connection* c, const char*, const char* method, const char*,
                              const char* data, std::size_t* size, void**) {
  auto& server = self(cls);
  auto& peer = peer_of(c);
  if (!peer.begun) {
    server.begin_request(peer, method);
    return MHD_YES;
  }
  if (*size != 0) return server.take_body(peer, data, std::exchange(*size, 0));
  return server.finish_request(peer);
}

/// Reads the head. What is wrong with it is kept as a refusal, sent when the body has been read.
void Server::begin_request(Peer& peer, const char* method) {
  peer.begun = true;
  peer.request.method = method;
  struct Heads {
    std::map<std::string, std::string>& all;
    std::size_t bytes = 0;
    bool two_hosts = false;
  } heads{peer.request.headers};
  const auto take = +[](void* cls, MHD_ValueKind, const char* key, const char* value) {
    auto& h = *static_cast<Heads*>(cls);
    std::string name = key;
    for (char& ch : name)
      if (ch >= 'A' && ch <= 'Z') ch = static_cast<char>(ch - 'A' + 'a');
    const std::string_view text = value == nullptr ? "" : value;
    h.bytes += name.size() + text.size() + 4;
    const auto [place, fresh] = h.all.emplace(name, text);
    if (!fresh) {
      h.two_hosts = h.two_hosts || name == "host" || name == "origin";
      place->second += (name == "cookie" ? "; " : ", ") + std::string{text};
    }
    return MHD_YES;
  };
  MHD_get_connection_values(peer.connection, MHD_HEADER_KIND, take, &heads);
  peer.request.cookies = parse_cookies(peer.request.header("cookie"));

  const auto& r = peer.request;
  if (peer.target.size() > kLongestTarget) {
    peer.refusal = refuse(414, "This address is too long.");
  } else if (heads.bytes + peer.target.size() > limits_.headers) {
    peer.refusal = refuse(431, "The headers of this request are too large.");
  } else if (heads.two_hosts) {
    peer.refusal = refuse(400, "A header that may stand once stands twice.");
  } else if (r.method != "GET" && r.method != "HEAD" && r.method != "POST") {
    peer.refusal = refuse(405, "Lampside knows GET, HEAD and POST only.");
    peer.refusal->headers.emplace_back("Allow", "GET, HEAD, POST");
  }
  if (auto boundary = boundary_of(r.header("content-type")); r.method == "POST" && !boundary.empty()) {
    peer.boundary = std::move(boundary);
    if (++uploads_ > limits_.uploads && !peer.refusal) {
      peer.refusal = refuse(503, "Other pictures are just coming in. Send this one again in a minute.");
      peer.refusal->headers.emplace_back("Retry-After", "30");
    }
    std::lock_guard lock{mutex_};
    peer.deadline = Clock::now() + std::chrono::seconds{limits_.upload_seconds};
  }
}

MHD_Result Server::take_body(Peer& peer, const char* data, std::size_t size) {
  peer.body_seen += size;
  const bool files = !peer.boundary.empty();
  const std::size_t most = files ? limits_.upload : limits_.body;
  if (peer.body_seen > (files ? 2 : kSwallowed) * most) return MHD_NO;  // closes the connection
  if (peer.body_seen > most) {
    if (!peer.refusal)
      peer.refusal = files ? refuse(413, "This picture is too large: the most is " +
                                             std::to_string(limits_.upload >> 20U) + " MB. Send a smaller copy.")
                           : refuse(413, "This form is too large. Write shorter notes, or send them one by one.");
    peer.body = {};
  } else if (!peer.refusal) {
    peer.body.append(data, size);
  }
  return MHD_YES;
}

MHD_Result Server::finish_request(Peer& peer) { return send(peer, peer.refusal ? *peer.refusal : handled(peer)); }

Response Server::handled(Peer& peer) {
  auto& request = peer.request;
  const std::string_view target = peer.target;
  const auto question = std::min(target.find('?'), target.size());
  auto path = percent_decode(target.substr(0, question), Plus::is_plus);
  auto segments = parse_path(target.substr(0, question));
  auto query = parse_form(target.substr(std::min(question + 1, target.size())));
  if (!path || !segments || !query) return refuse(400, "This address is not well formed.");
  request.path = std::move(*path);
  request.segments = std::move(*segments);
  request.query = std::move(*query);
  if (request.method == "POST" && !peer.boundary.empty()) {
    auto parts = parse_multipart(peer.body, peer.boundary);
    peer.body = {};
    if (!parts) return refuse(400, parts.error().what + ". " + parts.error().todo + ".");
    request.form = std::move(parts->fields);
    request.files = std::move(parts->files);
  } else if (request.method == "POST") {
    const auto type = request.header("content-type");
    if (type.substr(0, type.find(';')) != "application/x-www-form-urlencoded")
      return refuse(415, "Lampside takes forms only (application/x-www-form-urlencoded).");
    auto form = parse_form(peer.body);
    if (!form) return refuse(400, form.error().what + ". " + form.error().todo + ".");
    request.form = std::move(*form);
  }
  try {
    return handler_(request);
  } catch (const std::exception& e) {
    std::fprintf(stderr, "lampside: %s %s failed: %s\n", request.method.c_str(), request.path.c_str(), e.what());
    return refuse(500, "Something went wrong inside Lampside. Nothing was recorded by this request.");
  }
}

MHD_Result Server::send(Peer& peer, const Response& r) {
  const bool live = r.stream != nullptr && r.status == 200 && peer.request.method != "HEAD";
  if (live && streams_ >= limits_.streams) {
    auto full = refuse(503, "Too many pages are open. Close some of them.");
    full.headers.emplace_back("Retry-After", "30");
    return send(peer, full);
  }
  MHD_Response* response = nullptr;
  if (live) {
    ++streams_;
    auto* stream = new Stream{*this, peer, r.stream, {}};  // freed in on_stream_over
    response =
        MHD_create_response_from_callback(MHD_SIZE_UNKNOWN, 4096, &Server::on_stream, stream, &Server::on_stream_over);
    if (response == nullptr) on_stream_over(stream);
  } else {
    response = MHD_create_response_from_buffer(r.body.size(), const_cast<char*>(r.body.data()), MHD_RESPMEM_MUST_COPY);
  }
  if (response == nullptr) return MHD_NO;
  MHD_add_response_header(response, MHD_HTTP_HEADER_CONTENT_TYPE, r.content_type.c_str());
  for (const auto& [name, value] : r.headers) MHD_add_response_header(response, name.c_str(), value.c_str());
  for (const auto& [name, value] : always_)
    if (MHD_get_response_header(response, name.c_str()) == nullptr)
      MHD_add_response_header(response, name.c_str(), value.c_str());
  const auto queued = MHD_queue_response(peer.connection, static_cast<unsigned>(r.status), response);
  if (live && queued == MHD_YES) {
    std::lock_guard lock{mutex_};
    peer.streaming = true;
  }
  MHD_destroy_response(response);
  return queued;
}

ssize_t Server::on_stream(void* cls, std::uint64_t, char* buffer, std::size_t room) {
  auto& stream = *static_cast<Stream*>(cls);
  return stream.server.read_stream(stream, buffer, room);
}

void Server::on_stream_over(void* cls) {
  auto* stream = static_cast<Stream*>(cls);
  --stream->server.streams_;
  delete stream;
}

ssize_t Server::read_stream(Stream& stream, char* buffer, std::size_t room) {
  if (stream.pending.empty() && !stream.over) {
    char byte = 0;  // a reader that has gone is noticed here, not only when a write to it fails
    if (::recv(stream.peer.fd, &byte, 1, MSG_PEEK | MSG_DONTWAIT) == 0) return MHD_CONTENT_READER_END_OF_STREAM;
    try {
      stream.over = !stream.events->next(stream.pending);
    } catch (const std::exception& e) {
      std::fprintf(stderr, "lampside: a live stream failed: %s\n", e.what());
      stream.over = true;
    }
  }
  if (!stream.pending.empty()) {
    const auto n = std::min(room, stream.pending.size());
    std::memcpy(buffer, stream.pending.data(), n);
    stream.pending.erase(0, n);
    return static_cast<ssize_t>(n);
  }
  std::lock_guard lock{mutex_};
  if (stream.over || stopping_) return MHD_CONTENT_READER_END_OF_STREAM;
  MHD_suspend_connection(stream.peer.connection);
  stream.peer.suspended = true;
  return 0;
}

struct Address {
  sockaddr_storage storage{};
  socklen_t size = 0;
};

std::optional<Address> address_of(const std::string& text, int port) {
  Address a;
  auto* four = reinterpret_cast<sockaddr_in*>(&a.storage);
  auto* six = reinterpret_cast<sockaddr_in6*>(&a.storage);
  const auto port_bytes = htons(static_cast<std::uint16_t>(port));
  const auto& numeric = text == "localhost" ? "127.0.0.1" : text;
  if (::inet_pton(AF_INET, numeric.c_str(), &four->sin_addr) == 1) {
    four->sin_family = AF_INET;
    four->sin_port = port_bytes;
    a.size = sizeof *four;
  } else if (::inet_pton(AF_INET6, numeric.c_str(), &six->sin6_addr) == 1) {
    six->sin6_family = AF_INET6;
    six->sin6_port = port_bytes;
    a.size = sizeof *six;
  } else {
    return std::nullopt;
  }
  return a;
}

int port_of(int socket) {
  Address a;
  a.size = sizeof a.storage;
  if (::getsockname(socket, reinterpret_cast<sockaddr*>(&a.storage), &a.size) != 0) return 0;
  return ntohs(a.storage.ss_family == AF_INET6 ? reinterpret_cast<sockaddr_in6*>(&a.storage)->sin6_port
                                               : reinterpret_cast<sockaddr_in*>(&a.storage)->sin_port);
}

}  // namespace

Result<std::unique_ptr<Listener>> listen(const std::string& address, int port, Handler handler, Limits limits,
                                         std::vector<Header> always) {
  const auto where = address_of(address, port);
  if (!where || port < 0 || port > 65535)
    return problem("LISTEN_ADDRESS", "cannot listen on \"" + address + "\", port " + std::to_string(port),
                   "give an address of this machine such as 127.0.0.1 or 0.0.0.0, and a port from 1 to 65535");
  const int socket = ::socket(where->storage.ss_family, SOCK_STREAM | SOCK_CLOEXEC | SOCK_NONBLOCK, 0);
  if (socket < 0)
    return problem("LISTEN_FAILED", std::string{"no socket: "} + std::strerror(errno),
                   "try again, or restart the machine");
  const int on = 1;
  ::setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &on, sizeof on);
  if (::bind(socket, reinterpret_cast<const sockaddr*>(&where->storage), where->size) != 0 ||
      ::listen(socket, 128) != 0) {
    const int error = errno;
    ::close(socket);
    if (error == EADDRINUSE)
      return problem(
          "LISTEN_BUSY",
          "port " + std::to_string(port) + " is taken: another program listens there, perhaps another Lampside",
          "use the Lampside that is running, stop it, or choose another port with --port");
    if (error == EACCES)
      return problem("LISTEN_ADDRESS", "this user may not listen on port " + std::to_string(port),
                     "choose a port from 1024 up");
    return problem("LISTEN_ADDRESS", "cannot listen on \"" + address + "\": " + std::strerror(error),
                   "give an address of this machine such as 127.0.0.1 or 0.0.0.0");
  }
  auto server = std::make_unique<Server>(socket, port_of(socket), std::move(handler), limits, std::move(always));
  if (!server->start())
    return problem("LISTEN_FAILED", "the HTTP server did not start", "try again, or restart the machine");
  return server;
}

}  // namespace lampside::server
