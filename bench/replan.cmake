find_package(CLI11 REQUIRED)
foreach(name replan promise promise_better)
  add_executable(bench_${name} ${CMAKE_CURRENT_LIST_DIR}/${name}.cpp
                               ${CMAKE_CURRENT_LIST_DIR}/replan_shop.cpp)
  target_link_libraries(bench_${name} PRIVATE plan fmt::fmt CLI11::CLI11)
endforeach()
