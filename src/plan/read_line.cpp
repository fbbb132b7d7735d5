#include "plan/read_line.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "plan/project_text.hpp"

namespace rollwright::plan {
namespace {

/// Sentences show no more of a file's word than this.
constexpr std::size_t kMostOfWord = 40;

std::string shown_word(std::string_view word) {
  if (word.size() <= kMostOfWord) return std::string(word);
  std::size_t cut = kMostOfWord;
  while (cut > 0 && (static_cast<unsigned char>(word[cut]) & 0xC0) == 0x80) --cut;
  return std::string(word.substr(0, cut)) + "…";
}

Result<int> number_in(const ProjectText& text, std::string_view word, const char* what, int least,
                      int most) {
  const std::optional<long long> number = to_whole(word);
  if (!number) {
    return refuse(Code::kBadInput, "This should be a whole number.",
                  text.place(what, shown_word(word)));
  }
  if (*number < least || *number > most) {
    return refuse(Code::kOutOfRange, fmt::format("This should be {} to {}.", least, most),
                  text.place(what, shown_word(word)));
  }
  return static_cast<int>(*number);
}

Error cut_short(const ProjectText& text, const char* what) {
  return {Code::kBadInput, fmt::format("The text ends here; {} should follow.", what),
          text.place()};
}

Result<int> next_number(ProjectText& text, const char* what, int least, int most) {
  const auto line = text.next();
  if (!line) return std::unexpected(cut_short(text, what));
  return number_in(text, line->text, what, least, most);
}

struct Pair {
  int first = 0;
  int second = 0;
};

Result<Pair> pair_in(const ProjectText& text, std::string_view line, int least, int most) {
  const std::size_t comma = line.find(',');
  if (comma == std::string_view::npos) {
    return refuse(Code::kBadInput, "A line here is two task numbers with a comma, as in 1,4.",
                  text.place("precedence relations", shown_word(line)));
  }
  const char* what = "precedence relations";
  const auto first = number_in(text, trim(line.substr(0, comma)), what, least, most);
  if (!first) return std::unexpected(first.error());
  const auto second = number_in(text, trim(line.substr(comma + 1)), what, least, most);
  if (!second) return std::unexpected(second.error());
  return Pair{*first, *second};
}

Result<void> add_pair(const ProjectText& text, std::string_view line,
                      std::vector<LineTask>& tasks) {
  const auto pair = pair_in(text, line, 1, static_cast<int>(tasks.size()));
  if (!pair) return std::unexpected(pair.error());
  if (pair->first == pair->second) {
    return refuse(Code::kContradiction, "A task cannot come before itself.",
                  text.place("precedence relations", shown_word(line)));
  }
  tasks[static_cast<std::size_t>(pair->first) - 1].successors.push_back(pair->second - 1);
  return {};
}

std::vector<LineTask> numbered(int count) {
  std::vector<LineTask> tasks;
  for (int i = 1; i <= count; ++i) tasks.push_back({.name = std::to_string(i), .time = -1});
  return tasks;
}

Result<LineFile> finish(const ProjectText& text, std::vector<LineTask> tasks, int takt) {
  for (const LineTask& task : tasks) {
    if (task.time >= 0) continue;
    return refuse(Code::kBadInput, fmt::format("Task {} has no time.", task.name), text.place());
  }
  Result<Line> line = Line::make(std::move(tasks));
  if (line) return LineFile{*std::move(line), takt};
  Error error = line.error();
  const Place in_file = text.place(error.place.field, error.place.value);
  error.place = in_file;
  return std::unexpected(std::move(error));
}

Result<LineFile> read_in2(ProjectText& text, std::string_view first) {
  const auto count = number_in(text, first, "number of tasks", 1, kMostLineTasks);
  if (!count) return std::unexpected(count.error());
  std::vector<LineTask> tasks = numbered(*count);
  for (LineTask& task : tasks) {
    const auto time = next_number(text, "task time", 0, kMostTaskTime);
    if (!time) return std::unexpected(time.error());
    task.time = *time;
  }
  while (const auto line = text.next()) {
    const auto end = pair_in(text, line->text, -1, *count);
    if (!end) return std::unexpected(end.error());
    if (end->first == -1 && end->second == -1) return finish(text, std::move(tasks), 0);
    if (auto added = add_pair(text, line->text, tasks); !added) {
      return std::unexpected(added.error());
    }
  }
  return std::unexpected(cut_short(text, "the line -1,-1"));
}

Result<void> add_time(const ProjectText& text, std::string_view line,
                      std::vector<LineTask>& tasks) {
  const auto words = words_of(line);
  if (words.size() != 2) {
    return refuse(Code::kBadInput, "A line here is a task number and its time, as in 3 140.",
                  text.place("task times", shown_word(line)));
  }
  const auto task = number_in(text, words[0], "task", 1, static_cast<int>(tasks.size()));
  if (!task) return std::unexpected(task.error());
  const auto time = number_in(text, words[1], "task time", 0, kMostTaskTime);
  if (!time) return std::unexpected(time.error());
  int& known = tasks[static_cast<std::size_t>(*task) - 1].time;
  if (known >= 0) {
    return refuse(Code::kBadInput, "This task has a time already.",
                  text.place("task times", std::string(words[0])));
  }
  known = *time;
  return {};
}

Result<LineFile> read_alb(ProjectText& text, std::string heading) {
  std::vector<LineTask> tasks;
  int takt = 0;
  while (true) {
    if (heading == "<number of tasks>" || heading == "<cycle time>") {
      const bool counts = heading == "<number of tasks>";
      const auto number = counts ? next_number(text, "number of tasks", 1, kMostLineTasks)
                                 : next_number(text, "cycle time", 1, kMostTaskTime);
      if (!number) return std::unexpected(number.error());
      if (counts) tasks = numbered(*number);
      if (!counts) takt = *number;
    }
    const std::string under = heading;
    heading.clear();
    while (heading.empty()) {
      const auto line = text.next();
      if (!line) return std::unexpected(cut_short(text, "<end>"));
      if (line->text.front() == '<') {
        heading = lowered(std::string(line->text));
        continue;
      }
      Result<void> added;
      if (under == "<task times>") added = add_time(text, line->text, tasks);
      if (under == "<precedence relations>") added = add_pair(text, line->text, tasks);
      if (!added) return std::unexpected(added.error());
    }
    if (heading == "<end>") break;
  }
  if (tasks.empty()) {
    return refuse(Code::kBadInput, "The heading <number of tasks> is missing.", text.place());
  }
  return finish(text, std::move(tasks), takt);
}

/// Up to the line that ends the relations: old files go on with remarks in bytes of their day.
std::string_view before_remarks(std::string_view content) {
  constexpr std::string_view kEnd = "\n-1,-1";
  const std::size_t end = content.find(kEnd);
  return end == std::string_view::npos ? content : content.substr(0, end + kEnd.size());
}

}  // namespace

Result<LineFile> read_line_file(std::string_view content, std::string file) {
  if (content.size() <= kMostProjectText) content = before_remarks(content);
  Result<ProjectText> text = ProjectText::open(content, std::move(file));
  if (!text) return std::unexpected(text.error());
  const auto first = text->next();
  if (!first) return std::unexpected(cut_short(*text, "the number of tasks"));
  if (first->text.front() == '<') return read_alb(*text, lowered(std::string(first->text)));
  return read_in2(*text, first->text);
}

}  // namespace rollwright::plan
