#pragma once

#include <string>
#include <vector>

#include "plan/project.hpp"
#include "plan/read_bounds.hpp"

/// Folders and archives of benchmark instances, as the measurements of planning take them.
namespace rollwright::bench {

/// A folder of our own that goes when we do.
class TemporaryFolder {
 public:
  TemporaryFolder();
  ~TemporaryFolder();
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;
  /// Empty when none could be made.
  [[nodiscard]] const std::string& path() const { return path_; }

 private:
  std::string path_;
};

/// Unpacks with the system's tar, started without a shell so that no path is read as a command.
[[nodiscard]] Result<void> unpack(const std::string& archive, const std::string& folder);

/// Files under the folder that end so, in the order of their names with numbers counted as numbers.
/// Errors: kNotFound when there is no such folder or no such file in it.
[[nodiscard]] Result<std::vector<std::string>> files_in(const std::string& folder,
                                                        const std::string& ending);

struct Instance {
  std::string name;  // of its file, without the ending
  plan::Project project;
  plan::PublishedBounds published;  // nothing known where the list is silent
};

/// Every `step`-th project of a folder of `.sm` files, with what is published of each. `bounds` is
/// the path of a list, or empty. Errors: of the files, of `read_sm` and of `read_bounds`.
[[nodiscard]] Result<std::vector<Instance>> projects_in(const std::string& folder,
                                                        const std::string& bounds, int step = 1);

/// The set "j30" or "j60" of the open library below `data` (../shared), unpacked and read.
[[nodiscard]] Result<std::vector<Instance>> library_set(const std::string& data,
                                                        const std::string& set, int step = 1);

/// CPU seconds that this program has used.
[[nodiscard]] double cpu_seconds();

}  // namespace rollwright::bench
