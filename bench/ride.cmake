# Energy and odds of a ride over an invented route.
add_executable(bench_ride ${CMAKE_CURRENT_LIST_DIR}/ride.cpp)
target_link_libraries(bench_ride PRIVATE mech fmt::fmt)
target_compile_definitions(bench_ride PRIVATE ROLLWRIGHT_ROOT="${PROJECT_SOURCE_DIR}")
