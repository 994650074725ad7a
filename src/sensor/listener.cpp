#include "sensor/listener.hpp"

#include <fmt/format.h>
#include <mosquitto.h>

#include <algorithm>
#include <condition_variable>
#include <map>
#include <mutex>
#include <set>
#include <thread>

#include "nest/sensor.hpp"
#include "record/litter.hpp"
#include "zone/zone.hpp"

namespace lampside::sensor {
namespace {

using std::chrono::milliseconds;

constexpr int kKeepAliveS = 20;
constexpr int kQos = 1;  // the broker repeats what was not acknowledged
constexpr milliseconds kShortestWait{500}, kLongestWait{15'000};
constexpr milliseconds kLookAgain{1'000};  // at the journal, for sensors and births

struct Client {
  void operator()(mosquitto* m) const { mosquitto_destroy(m); }
};

class Mqtt final : public Listener {
 public:
  /// A clean session: a broker that held messages for us would hand them over later, and they would pass for readings
  /// of now.
  explicit Mqtt(ListenOptions options) : options_{std::move(options)}, client_{mosquitto_new(nullptr, true, this)} {}
  ~Mqtt() override {
    {
      const std::lock_guard lock{mutex_};
      stop_ = true;
    }
    wake_.notify_all();
    if (thread_.joinable()) thread_.join();
  }
  Mqtt(const Mqtt&) = delete;
  Mqtt& operator=(const Mqtt&) = delete;

  [[nodiscard]] bool made() const { return client_ != nullptr; }
  /// The keeper's name, password and certificate. A file of certificates that cannot be used is found here, not later.
  Result<void> introduce() {
    const auto& b = options_.broker;
    if (!b.user.empty() && mosquitto_username_pw_set(client_.get(), b.user.c_str(),
                                                     b.password ? b.password->c_str() : nullptr) != MOSQ_ERR_SUCCESS)
      return problem("SENSORS_USER", "the broker's user or password cannot be used", "write both in plain letters");
    if (!b.ca_file.empty() &&
        mosquitto_tls_set(client_.get(), b.ca_file.c_str(), nullptr, nullptr, nullptr, nullptr) != MOSQ_ERR_SUCCESS)
      return problem("SENSORS_CA", fmt::format("{} cannot be used as the broker's certificates", b.ca_file),
                     "give the certificate of the authority that signed the broker's own, as PEM");
    return {};
  }

  void start() {
    mosquitto_connect_callback_set(
        client_.get(), [](mosquitto*, void* self, int refused) { static_cast<Mqtt*>(self)->connected(refused); });
    mosquitto_message_callback_set(
        client_.get(), [](mosquitto*, void* self, const mosquitto_message* m) { static_cast<Mqtt*>(self)->take(*m); });
    thread_ = std::thread([this] { run(); });
  }

  [[nodiscard]] Heard heard() const override {
    const std::lock_guard lock{mutex_};
    return {messages_, kept_, pending_.size(), connected_};
  }
  [[nodiscard]] std::vector<reference::Finding> findings(const record::Litter& litter, Instant now) const override {
    const std::lock_guard lock{mutex_};
    const auto desk = desks_.find(litter.key);
    return desk == desks_.end() ? std::vector<reference::Finding>{} : desk->second.desk.findings(litter, now);
  }

 private:
  struct Desk {
    nest::SensorDesk desk;
    Zone zone;
  };

  bool stopping() {
    const std::lock_guard lock{mutex_};
    return stop_;
  }
  void wait(milliseconds span) {
    std::unique_lock lock{mutex_};
    wake_.wait_for(lock, span, [this] { return stop_; });
  }

  void run() {
    milliseconds pause = kShortestWait;
    while (!stopping()) {
      look();
      const int tried =
          mosquitto_connect(client_.get(), options_.broker.host.c_str(), options_.broker.port, kKeepAliveS);
      int rc = tried;
      if (tried == MOSQ_ERR_SUCCESS) {
        while (rc == MOSQ_ERR_SUCCESS && !stopping()) {
          rc = mosquitto_loop(client_.get(), 200, 1);
          look();
          subscribe();
          flush();
          if (heard().connected) pause = kShortestWait;
        }
      }
      if (stopping()) break;
      // What the broker said when it refused tells more than that it refused.
      if (rc != MOSQ_ERR_CONN_REFUSED && rc != MOSQ_ERR_SUCCESS)
        lost(tried == MOSQ_ERR_ERRNO || rc == MOSQ_ERR_ERRNO ? "nobody answers there" : mosquitto_strerror(rc));
      // Waiting for the broker must not keep the journal waiting.
      for (milliseconds waited{0}; waited < pause && !stopping(); waited += kShortestWait) {
        wait(kShortestWait);
        flush();
      }
      pause = std::min(pause * 2, kLongestWait);
    }
    flush();
    mosquitto_disconnect(client_.get());
  }

  void connected(int refused) {
    if (refused != 0) {
      lost(mosquitto_connack_string(refused));
      return;
    }
    {
      const std::lock_guard lock{mutex_};
      connected_ = true;
      lost_.reset();
      for (auto& [key, desk] : desks_) desk.desk.broker(std::nullopt, "");
      subscribed_.clear();
    }
    say(fmt::format("Sensors: listening at {}.", where()));
  }
  void lost(const std::string& why) {
    bool news = false;
    {
      const std::lock_guard lock{mutex_};
      news = connected_ || !lost_;
      connected_ = false;
      if (news) lost_ = options_.clock();
      lost_why_ = fmt::format("{}, {}", where(), why);
      for (auto& [key, desk] : desks_) desk.desk.broker(lost_, lost_why_);
    }
    if (news) say(fmt::format("Sensors: the broker cannot be reached ({}). It is tried again.", lost_why_));
  }
  [[nodiscard]] std::string where() const { return fmt::format("{}:{}", options_.broker.host, options_.broker.port); }
  void say(const std::string& line) const {
    if (options_.say) options_.say(line);
  }

  /// What the journal says of sensors and of births, at most once a second.
  void look() {
    const auto steady = std::chrono::steady_clock::now();
    if (looked_ && steady - *looked_ < kLookAgain) return;
    looked_ = steady;
    auto more = options_.journal.read(entries_read_);
    if (!more) return;  // busy or damaged: the pages say so; what is known holds meanwhile
    entries_read_ += more->size();
    bool news = entries_.empty();
    for (auto& e : *more) {
      // Readings change nothing here, and there are many.
      if (record::body_as<record::Air>(e)) continue;
      entries_.push_back(std::move(e));
      news = true;
    }
    const Instant now = options_.clock();
    const bool aged = now - known_at_ >= std::chrono::hours{1};  // the band falls as the pups grow
    if (!news && !aged) return;
    known_at_ = now;
    for (const auto& key : record::litters_in(entries_)) {
      const auto zone = zone::load(record::zone_name(entries_, key));
      const auto litter = record::fold(entries_, key, zone.value_or(Zone{}));
      const std::lock_guard lock{mutex_};
      auto desk = desks_.find(key);
      if (desk == desks_.end()) {
        desk = desks_.emplace(key, Desk{nest::SensorDesk{options_.reference}, Zone{}}).first;
        if (lost_) desk->second.desk.broker(lost_, lost_why_);
      }
      desk->second.zone = litter.zone;
      desk->second.desk.know(litter, now);
    }
  }

  void subscribe() {
    std::set<std::string> wanted;
    {
      const std::lock_guard lock{mutex_};
      if (!connected_) return;
      for (const auto& [key, desk] : desks_)
        for (auto& topic : desk.desk.topics())
          // A '#' or '+' would bring topics that no sensor of ours has.
          if (mosquitto_pub_topic_check(topic.c_str()) == MOSQ_ERR_SUCCESS) wanted.insert(std::move(topic));
    }
    for (const auto& topic : subscribed_)
      if (!wanted.contains(topic)) mosquitto_unsubscribe(client_.get(), nullptr, topic.c_str());
    for (const auto& topic : wanted)
      if (!subscribed_.contains(topic)) mosquitto_subscribe(client_.get(), nullptr, topic.c_str(), kQos);
    subscribed_ = std::move(wanted);
  }

  void take(const mosquitto_message& m) {
    const std::string_view payload{m.payloadlen > 0 ? static_cast<const char*>(m.payload) : "",
                                   static_cast<std::size_t>(std::max(m.payloadlen, 0))};
    const Instant now = options_.clock();
    const std::lock_guard lock{mutex_};
    ++messages_;
    for (auto& [key, desk] : desks_)
      if (auto air = desk.desk.take(m.topic, payload, m.retain, now)) {
        const Stamp stamp = desk.zone.stamp(now);
        pending_.push_back(record::make_entry(options_.fresh_id(), key, stamp, stamp, "sensor", "", std::move(*air)));
      }
  }

  void flush() {
    std::vector<record::Entry> now_kept;
    {
      const std::lock_guard lock{mutex_};
      now_kept = pending_;
    }
    if (now_kept.empty()) return;
    const auto done = options_.journal.append(now_kept);
    if (!done) {
      if (!journal_refuses_)
        say(fmt::format("Sensors: readings wait, the journal cannot take them: {}", to_text(done.error())));
      journal_refuses_ = true;
      return;
    }
    journal_refuses_ = false;
    const std::lock_guard lock{mutex_};
    pending_.erase(pending_.begin(), pending_.begin() + static_cast<std::ptrdiff_t>(now_kept.size()));
    kept_ += now_kept.size();
  }

  ListenOptions options_;
  std::unique_ptr<mosquitto, Client> client_;
  std::thread thread_;
  mutable std::mutex mutex_;
  std::condition_variable wake_;

  // Under the mutex.
  bool stop_ = false, connected_ = false;
  std::optional<Instant> lost_;
  std::string lost_why_;
  std::map<std::string, Desk> desks_;
  std::vector<record::Entry> pending_;
  std::uint64_t messages_ = 0, kept_ = 0;

  // The thread's own.
  std::vector<record::Entry> entries_;
  std::uint64_t entries_read_ = 0;
  std::optional<std::chrono::steady_clock::time_point> looked_;
  Instant known_at_{};
  std::set<std::string> subscribed_;
  bool journal_refuses_ = false;
};

}  // namespace

Result<std::unique_ptr<Listener>> listen(ListenOptions options) {
  static const int library = mosquitto_lib_init();
  if (library != MOSQ_ERR_SUCCESS)
    return problem("SENSORS_FAILED", mosquitto_strerror(library), "start again without --sensors");
  auto out = std::make_unique<Mqtt>(std::move(options));
  if (!out->made())
    return problem("SENSORS_FAILED", "no room for the sensors' listener", "start again without --sensors");
  if (auto known = out->introduce(); !known) return tl::unexpected(known.error());
  out->start();
  return out;
}

}  // namespace lampside::sensor
