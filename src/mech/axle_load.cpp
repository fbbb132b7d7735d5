#include "mech/axle_load.hpp"

#include "mech/field_range.hpp"

namespace rollwright::mech {

Result<AxleLoads> axle_loads(const std::vector<LoadPiece>& pieces, Length wheelbase) {
  if (auto error = first_outside({{"wheelbase", wheelbase.in(mm), 700, 2600, "mm"}})) {
    return std::unexpected(*error);
  }
  AxleLoads loads;
  for (const LoadPiece& piece : pieces) {
    if (auto error = first_outside(
            {{piece.name + " mass", piece.mass.in(kg), 0, 400, "kg"},
             {piece.name + " place", piece.behind_front_axle.in(mm), -1500, 4000, "mm"}})) {
      return std::unexpected(*error);
    }
    loads.total += piece.mass;
    loads.rear += piece.behind_front_axle / wheelbase * piece.mass;
  }
  loads.front = loads.total - loads.rear;
  return loads;
}

}  // namespace rollwright::mech
