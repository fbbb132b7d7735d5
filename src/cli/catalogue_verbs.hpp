#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "shop/catalogue_views.hpp"

/// What the command line says of a supplier's list, and how the answers read in a terminal.
namespace rollwright::cli {

struct CatalogueOptions {
  std::string path;
  std::string supplier;
  std::string mapping;  // path of a mapping file; empty: as saved or proposed
  std::string day;
  std::string refused;  // path to write the refused rows to
  std::vector<std::string> take_over;
  bool dry_run = false;
  bool skip_bad_rows = false;
  int number = 0;
};

/// Reads the list and the mapping file. Errors: files that are not there, problems of the mapping.
[[nodiscard]] Result<shop::GivenList> given_list(const CatalogueOptions& options);
/// Writes the refused rows where the person asked for them, if there are any.
[[nodiscard]] Result<void> write_refused(const CatalogueOptions& options,
                                         const shop::PreviewView& preview);
[[nodiscard]] bool is_clean(const shop::PreviewView& preview);

}  // namespace rollwright::cli
