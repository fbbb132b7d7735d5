# Route length against a second geodesic program.
pkg_check_modules(GEOGRAPHICLIB REQUIRED IMPORTED_TARGET geographiclib)
add_executable(bench_route_length ${CMAKE_CURRENT_LIST_DIR}/route_length.cpp)
target_link_libraries(bench_route_length PRIVATE mech fmt::fmt PkgConfig::GEOGRAPHICLIB)
target_compile_definitions(bench_route_length PRIVATE ROLLWRIGHT_ROOT="${PROJECT_SOURCE_DIR}")
