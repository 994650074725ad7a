// serve and demo: the pages, until Ctrl-C.
#include "server/serve.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include "cli/commands.hpp"
#include "cli/demo_files.hpp"
#include "cli/demo_pictures.hpp"
#include "cli/files.hpp"
#include "cli/memory.hpp"
#include "cli/shell.hpp"
#include "exchange/jsonl.hpp"
#include "exchange/vcard.hpp"
#include "sensor/listener.hpp"
#include "zone/zone.hpp"

#include <iostream>
#include <sstream>

namespace lampside::cli {
namespace {

/// Wall time without an offset is the only litter's; with several, or none, this machine's.
Result<Instant> moment_of(const Moment& at, store::Journal& journal) {
  if (!at.needs_zone()) return at.in(Zone{});
  const auto entries = journal.read();
  if (!entries) return tl::unexpected(entries.error());
  const auto litters = record::litters_in(*entries);
  const auto zone = zone::load(litters.size() == 1 ? record::zone_name(*entries, litters.front()) : zone::local_name());
  if (!zone) return tl::unexpected(zone.error());
  return at.in(*zone);
}

struct Address {
  std::string address;
  int port;
};

Result<std::unique_ptr<server::Running>> start(const Address& where, store::Journal& journal, const std::string& folder,
                                               const std::optional<Moment>& at, const sensor::Listener* sensors) {
  server::ServeOptions options{where.address, where.port, machine_now, journal};
  options.attachments = store::Attachments::beside(folder);
  if (sensors)
    options.live = [sensors](const record::Litter& litter, Instant now) { return sensors->findings(litter, now); };
  if (at) {
    const auto moment = moment_of(*at, journal);
    if (!moment) return tl::unexpected(moment.error());
    options.clock = running_from(*moment);
    options.future = server::Future::known;
  }
  return server::serve(std::move(options));
}

Result<void> greet(const server::Running& running, const std::string& what) {
  std::string text = what + "\n\n";
  for (const auto& url : running.urls()) text += "  " + url + "\n";
  if (isatty(STDOUT_FILENO) == 1) text += "\n" + running.qr();
  return print(text + "\nCtrl-C stops it.\n");
}

}  // namespace

int run(const ServeCommand& command) {
  begin_large_heap();
  const StopSignals signals;
  const auto folder = data_folder(command.data);
  if (!folder) return fail(folder.error());
  auto journal = store::open_sqlite(*folder);
  if (!journal) return fail(journal.error());
  std::unique_ptr<sensor::Listener> sensors;  // outlives the pages, which ask it
  if (!command.sensors.empty()) {
    if (command.at)
      return fail({"SENSORS_AT", "--sensors and --at do not go together", "readings come now: leave out --at"});
    auto broker =
        sensor::parse_broker(command.sensors, command.sensors_ca.empty() ? sensor::kPlainPort : sensor::kTlsPort);
    if (!broker) return fail(broker.error());
    broker->user = command.sensors_user;
    broker->ca_file = command.sensors_ca;
    if (!command.sensors_password_file.empty()) {
      auto password = sensor::read_password(command.sensors_password_file);
      if (!password) return fail(password.error());
      broker->password = std::move(*password);
    }
    auto listening = sensor::listen({.broker = *broker,
                                     .journal = **journal,
                                     .clock = machine_now,
                                     .fresh_id = server::random_id,
                                     .reference = reference::built_in(),
                                     .say = [](const std::string& line) { std::cerr << line + "\n"
                                                                                    << std::flush; }});
    if (!listening) return fail(listening.error());
    sensors = std::move(*listening);
  }
  const auto running = start({command.address, command.port}, **journal, *folder, command.at, sensors.get());
  if (!running) return fail(running.error());
  if (auto greeted = greet(**running, fmt::format("Lampside keeps its journal in {}. Open:", *folder)); !greeted)
    return fail(greeted.error());
  signals.wait();
  return fine;
}

int run(const DemoCommand& command) {
  begin_large_heap();
  const StopSignals signals;
  std::istringstream file{std::string(juniper_jsonl)};
  const auto taken = exchange::read_jsonl(file);
  if (!taken) return fail(taken.error());
  const auto folder = TemporaryFolder::make();
  if (!folder) return fail(folder.error());
  auto journal = store::open_sqlite(folder->path());
  if (!journal) return fail(journal.error());
  if (auto kept = (*journal)->append(taken->entries); !kept) return fail(kept.error());
  std::istringstream cards{std::string(families_vcf)};
  const auto people = exchange::read_vcards(cards);
  if (!people) return fail(people.error());
  for (const auto& person : *people)
    if (auto kept = (*journal)->people().put(person); !kept) return fail(kept.error());

  if (auto drawn = add_pictures(taken->entries, **journal, store::Attachments::beside(folder->path())); !drawn)
    return fail(drawn.error());

  std::string opens_at{moment_txt};
  while (opens_at.ends_with('\n')) opens_at.pop_back();
  const auto moment = command.at ? Result<Moment>{*command.at} : Moment::parse(opens_at);
  if (!moment) return fail(moment.error());
  auto running = start({command.address, command.port.value_or(8642)}, **journal, folder->path(), *moment, nullptr);
  if (!running && running.error().code == "LISTEN_BUSY" && !command.port)
    running = start({command.address, 0}, **journal, folder->path(), *moment, nullptr);
  if (!running) return fail(running.error());
  if (auto greeted =
          greet(**running, "The demo: an invented litter. What you write in it is forgotten when it stops. Open:");
      !greeted)
    return fail(greeted.error());
  signals.wait();
  return fine;
}

}  // namespace lampside::cli
