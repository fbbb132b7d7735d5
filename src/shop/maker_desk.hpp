#pragma once

#include <memory>
#include <string>

#include "base/result.hpp"
#include "shop/life_facts.hpp"
#include "shop/maker_views.hpp"

namespace rollwright::documents {
struct MakerFormPrint;
}

namespace rollwright::shop {

class Shop;

/// The use cases of a bike that a maker builds: the order form, the maker's lists, and what is said
/// to each difference between a list and what was signed.
///
/// Invariants: forms, lists and answers only grow; what is accepted and changes the parts is chosen
///             in the same change, and has to be signed before the order goes on.
/// Threads: any number; holds nothing but the shop.
class MakerDesk {
 public:
  explicit MakerDesk(Shop& shop) : shop_(shop) {}

  /// Errors: kNotFound; kRefused for a bike that is built here.
  [[nodiscard]] Result<MakerView> look(const std::string& order);

  /// Writes down that the form went to the maker, as it is made of the signed version. Errors: those
  /// of look; kNotFound for the person; kNotAllowed for a person without a hat for it; kRefused
  /// before Agreed, once it is built, or while what is chosen is not what was signed; kOutOfRange or
  /// kContradiction for the day wanted.
  [[nodiscard]] Result<MakerView> send_form(const std::string& order, const MakerFormGiven& given);

  /// Keeps a list of the maker, from a CSV file or typed in; all of it or nothing. Errors: as above;
  /// the problems of trade::read_maker_list, all in one sentence each; kRefused in another state.
  [[nodiscard]] Result<MakerView> take_list(const std::string& order,
                                            const MakerListGiven& given);

  /// Accepts or denies differences of the list that counts. Errors: as above; kConflict when another
  /// list counts by now, or somebody was faster; kNotFound for a difference that is none; kRefused
  /// with everything that keeps it from being accepted.
  [[nodiscard]] Result<MakerView> answer(const std::string& order, const DifferenceGiven& given);

  /// The newest form that was sent, else a draft of the one to be sent. `letter`: on US Letter.
  [[nodiscard]] Result<std::string> form_pdf(const std::string& order, bool letter);
  [[nodiscard]] Result<std::string> form_csv(const std::string& order);

  /// One state, the order in it, and what it is judged by.
  struct Looked {
    std::shared_ptr<const State> state;
    const trade::BuildTemplate* build = nullptr;
    trade::Order order;
    Day today = {};
  };

 private:
  [[nodiscard]] Result<Looked> looked(const std::string& order);
  [[nodiscard]] LifeAt at(const Looked& looked) const;
  [[nodiscard]] Result<const trade::Person*> allowed(const Looked& looked, const std::string& who,
                                                     const std::set<build::Hat>& hats) const;
  [[nodiscard]] MakerView view(const Looked& looked) const;
  [[nodiscard]] std::vector<std::string> papers(const Looked& looked) const;
  [[nodiscard]] Result<documents::MakerFormPrint> print(const std::string& order);

  Shop& shop_;
};

}  // namespace rollwright::shop
