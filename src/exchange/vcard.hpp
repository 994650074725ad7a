// A person as a vCard (RFC 6350), in and out: the telephone's own form of an address.
#pragma once

#include <istream>
#include <string>
#include <vector>

#include "measure/result.hpp"
#include "record/person.hpp"

namespace lampside::exchange {

/// Version 4.0, CRLF, lines folded at 75 octets. The family's id is the UID; the keeper's own date and the consent go
/// as X-LAMPSIDE-KEEP-UNTIL and X-LAMPSIDE-CONSENT.
std::string to_vcard(const record::Person& person);

/// Every card of a file, version 3.0 or 4.0. Without a UID of ours `family` is what the UID says, or empty. Several
/// numbers or addresses of one kind come joined; what a Person has no place for is passed over.
/// Errors, by line and without a word of what the card says: VCARD_SHAPE, VCARD_VERSION, VCARD_NAME, VCARD_EMPTY,
/// those of LineReader.
Result<std::vector<record::Person>> read_vcards(std::istream& in);

}  // namespace lampside::exchange
