// One struct of options and one function a command. Each prints, and returns the exit code.
#pragma once

#include <optional>
#include <string>

#include "cli/source.hpp"
#include "exchange/dates.hpp"
#include "measure/text.hpp"

namespace lampside::cli {

struct ServeCommand {
  std::string data;
  std::string address = "127.0.0.1";
  int port = 8642;
  std::string sensors;  ///< HOST[:PORT] of a broker; empty: none
  std::string sensors_user, sensors_password_file, sensors_ca;
  std::optional<Moment> at;
};
int run(const ServeCommand& command);

struct DemoCommand {
  std::string address = "127.0.0.1";
  std::optional<int> port;  ///< absent: 8642, or any free one
  std::optional<Moment> at;
};
int run(const DemoCommand& command);

struct AssessCommand {
  Source source;
  bool json = false;
};
int run(const AssessCommand& command);

struct TakeInCommand {
  std::string file, data, litter;
  std::optional<WeightUnit> unit;
  std::optional<exchange::DateOrder> dates;
  std::optional<Minutes> time;
  std::optional<Moment> born, at;
  bool dry_run = false;
  bool with_misfits = false;
  [[nodiscard]] bool sheet_options() const { return unit || dates || time || born || !litter.empty(); }
};
int run(const TakeInCommand& command);

struct HandOutCommand {
  std::string file, data, litter;
  bool force = false;
};
int run(const HandOutCommand& command);

struct RehearseCommand {
  int pregnancies = 20000;
  unsigned seed = 1;
};
int run(const RehearseCommand& command);

struct RehearseLabourCommand {
  int normal = 20000;
  int obstructed = 5000;
  unsigned seed = 1;
};
int run(const RehearseLabourCommand& command);

struct RehearseWeightsCommand {
  int litters = 2000;
  unsigned seed = 1;
  int pups = 10;
  double birth_g = 400, step_g = 5;
  int rounds_a_day = 1;
  bool no_slips = false;
};
int run(const RehearseWeightsCommand& command);

struct CopyCommand {
  std::string to, data;
};
int run(const CopyCommand& command);

struct RestoreCommand {
  std::string copy, data;
};
int run(const RestoreCommand& command);

struct PaperCommand {
  std::string form;
  Source source;
  std::string size = "a4";
  std::string out;
  std::string pup;  ///< its label, for forms about a pup; empty: every pup at home
};
int run(const PaperCommand& command);

struct CalendarCommand {
  Source source;
  std::string out;
};
int run(const CalendarCommand& command);

}  // namespace lampside::cli
