#include "plan_instances.hpp"

#include <algorithm>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <system_error>

#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/text.hpp"
#include "plan/read_sm.hpp"

namespace rollwright::bench {
namespace fs = std::filesystem;
namespace {

bool is_digit(char c) { return '0' <= c && c <= '9'; }

/// "j301_2" before "j301_10".
bool comes_before(const std::string& a, const std::string& b) {
  std::size_t i = 0;
  std::size_t j = 0;
  while (i < a.size() && j < b.size()) {
    if (is_digit(a[i]) && is_digit(b[j])) {
      const std::size_t first = i;
      const std::size_t other = j;
      while (i < a.size() && is_digit(a[i])) ++i;
      while (j < b.size() && is_digit(b[j])) ++j;
      if (i - first != j - other) return i - first < j - other;
      const int order = a.compare(first, i - first, b, other, j - other);
      if (order != 0) return order < 0;
    } else if (a[i] != b[j]) {
      return a[i] < b[j];
    } else {
      ++i;
      ++j;
    }
  }
  return a.size() - i < b.size() - j;
}

Result<plan::BoundsList> bounds_at(const std::string& path) {
  if (path.empty()) return plan::BoundsList{};
  const Result<std::string> text = read_file(path);
  if (!text) return std::unexpected(text.error());
  return plan::read_bounds(*text, path);
}

}  // namespace

TemporaryFolder::TemporaryFolder() : path_((fs::temp_directory_path() / "plan-XXXXXX").string()) {
  if (mkdtemp(path_.data()) == nullptr) path_.clear();
}

TemporaryFolder::~TemporaryFolder() {
  std::error_code ignored;
  if (!path_.empty()) fs::remove_all(path_, ignored);
}

Result<void> unpack(const std::string& archive, const std::string& folder) {
  if (!fs::exists(archive)) {
    return refuse(Code::kNotFound, "the instances are missing", {.file = archive});
  }
  std::vector<std::string> words = {"tar", "-xJf", archive, "-C", folder};
  std::vector<char*> arguments;
  for (std::string& word : words) arguments.push_back(word.data());
  arguments.push_back(nullptr);
  pid_t child = 0;
  int status = 0;
  const bool ran = posix_spawnp(&child, "tar", nullptr, nullptr, arguments.data(), environ) == 0;
  if (ran && waitpid(child, &status, 0) == child && WIFEXITED(status) &&
      WEXITSTATUS(status) == 0) {
    return {};
  }
  return refuse(Code::kUnavailable, "tar with xz could not unpack it", {.file = archive});
}

Result<std::vector<std::string>> files_in(const std::string& folder, const std::string& ending) {
  if (!fs::is_directory(folder)) {
    return refuse(Code::kNotFound, "there is no such folder", {.file = folder});
  }
  std::vector<std::string> files;
  for (const fs::directory_entry& entry : fs::directory_iterator(folder)) {
    if (entry.path().extension() == ending) files.push_back(entry.path().string());
  }
  if (files.empty()) {
    return refuse(Code::kNotFound, "the folder has no file that ends in " + ending,
                  {.file = folder});
  }
  std::sort(files.begin(), files.end(), comes_before);
  return files;
}

Result<std::vector<Instance>> projects_in(const std::string& folder, const std::string& bounds,
                                          int step) {
  const auto list = bounds_at(bounds);
  if (!list) return std::unexpected(list.error());
  const auto files = files_in(folder, ".sm");
  if (!files) return std::unexpected(files.error());
  std::vector<Instance> instances;
  for (std::size_t at = 0; at < files->size(); at += static_cast<std::size_t>(step)) {
    const std::string& file = (*files)[at];
    const Result<std::string> text = read_file(file);
    if (!text) return std::unexpected(text.error());
    Result<plan::Project> project = plan::read_sm(*text, file);
    if (!project) return std::unexpected(project.error());
    const std::string name = fs::path(file).stem().string();
    const auto published = list->find(name);
    instances.push_back({name, std::move(*project),
                         published == list->end() ? plan::PublishedBounds{} : published->second});
  }
  return instances;
}

Result<std::vector<Instance>> library_set(const std::string& data, const std::string& set,
                                          int step) {
  const std::string folder = data + "/reference/planning/psplib/";
  const TemporaryFolder unpacked;
  if (unpacked.path().empty()) {
    return refuse(Code::kUnavailable, "no temporary folder could be made");
  }
  if (const auto ok = unpack(folder + set + ".sm.tar.xz", unpacked.path()); !ok) {
    return std::unexpected(ok.error());
  }
  return projects_in(unpacked.path() + "/" + set, folder + "bestknown/bounds.csv", step);
}

double cpu_seconds() { return static_cast<double>(std::clock()) / CLOCKS_PER_SEC; }

}  // namespace rollwright::bench
