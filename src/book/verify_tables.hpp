#pragma once

#include <map>
#include <string>

#include "book/database.hpp"
#include "book/journal.hpp"

namespace rollwright::book {

/// As Book::verify, all but the pictures themselves; `pictures` takes what the journal says of them,
/// by subject.
[[nodiscard]] Result<ChainReport> verify_tables(Database& database, const std::string& printed,
                                                std::map<std::string, std::string>& pictures);

}  // namespace rollwright::book
