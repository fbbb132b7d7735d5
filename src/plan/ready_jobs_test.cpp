#include "plan/ready_jobs.hpp"

#include <algorithm>
#include <set>
#include <vector>

#include <gtest/gtest.h>

#include "base/random.hpp"
#include "plan/workshop.hpp"

namespace rollwright::plan {
namespace {

/// The same with nothing kept but what is ready and which bikes are taken.
class PlainReady {
 public:
  explicit PlainReady(const std::vector<ReadyJobs::Place>& jobs) : jobs_(jobs) {}

  void add(int job) { ready_.insert(job); }
  void remove(int job) { ready_.erase(job); }
  void start(int job) {
    ready_.erase(job);
    if (jobs_[at(job)].bike >= 0) taken_.insert(jobs_[at(job)].bike);
  }
  void free_bike(int bike) { taken_.erase(bike); }
  bool is_taken(int bike) const { return taken_.contains(bike); }
  bool is_ready(int job) const { return ready_.contains(job); }

  int first(int group) const {
    for (const int job : ready_) {
      if (jobs_[at(job)].group == group && !taken_.contains(jobs_[at(job)].bike)) return job;
    }
    return kNever;
  }

 private:
  std::vector<ReadyJobs::Place> jobs_;
  std::set<int> ready_;
  std::set<int> taken_;
};

TEST(ReadyJobs, AreThoseOfASetWhateverHappensToThem) {
  constexpr int kBikes = 6;
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    SCOPED_TRACE(seed);
    const int groups = seed % 4 == 0 ? 70 : 3;  // more than a word has bits, too
    Random random(seed);
    std::vector<ReadyJobs::Place> jobs;
    // Some bikes have more jobs than a word has bits.
    for (std::size_t job = 0; job < 100 + seed * 60; ++job) {
      jobs.push_back({static_cast<int>(random.below(static_cast<std::uint64_t>(groups))),
                      static_cast<int>(random.below(kBikes + 1)) - 1});
    }
    ReadyJobs ready(jobs, at(groups), kBikes);
    PlainReady plain(jobs);
    int others_on_the_bike = 0;
    for (int step = 0; step < 20'000; ++step) {
      const int job = static_cast<int>(random.below(jobs.size()));
      const int bike = jobs[at(job)].bike;
      const bool could = plain.is_ready(job) && !plain.is_taken(bike);
      switch (random.below(4)) {
        case 0:
        case 1:
          if (plain.is_ready(job)) break;
          ready.add(job);
          plain.add(job);
          others_on_the_bike += plain.is_taken(bike) ? 1 : 0;
          break;
        case 2:
          if (!could) break;
          if (random.below(2) == 0) {
            ready.start(job);
            plain.start(job);
          } else {
            ready.remove(job);
            plain.remove(job);
          }
          break;
        default:
          if (!plain.is_taken(bike)) break;
          ready.free_bike(bike);
          plain.free_bike(bike);
      }
      bool any = false;
      for (int group = 0; group < groups; ++group) {
        ASSERT_EQ(ready.first()[at(group)], plain.first(group)) << "step " << step;
        const bool has_one = plain.first(group) < kNever;
        ASSERT_EQ((ready.groups_with_any()[at(group / 64)] >> (group % 64) & 1) != 0, has_one);
        any |= has_one;
      }
      ASSERT_EQ(ready.any(), any);
    }
    EXPECT_GT(others_on_the_bike, 100);
    ready.clear();
    EXPECT_FALSE(ready.any());
  }
}

}  // namespace
}  // namespace rollwright::plan
