// Who the families are, kept beside the journal: the one thing here that can be changed and erased.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "measure/result.hpp"
#include "record/person.hpp"

namespace lampside::store {

/// Thread-safe: every call may come from any thread. No error names what was kept about anybody.
class People {
 public:
  virtual ~People() = default;

  /// Writes a person down, over what was there under this id. Errors: PERSON_FAMILY (no id), STORE_*.
  virtual Result<void> put(const record::Person& person) = 0;
  /// Nothing when nobody is kept under this id. Errors: STORE_*.
  virtual Result<std::optional<record::Person>> get(const std::string& family) = 0;
  /// All, by id. Errors: STORE_*.
  virtual Result<std::vector<record::Person>> list() = 0;
  /// Gone from the store, also from its side files, when it returns; fine when nobody was there. Copies made before
  /// still hold it. Errors: STORE_BUSY (the line is gone, a trace may be left: erase again), STORE_*.
  virtual Result<void> erase(const std::string& family) = 0;
};

}  // namespace lampside::store
