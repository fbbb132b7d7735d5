# Belts that fit, beside plain loops over a length measured along the belt.
find_package(CLI11 REQUIRED)
add_executable(bench_belts ${CMAKE_CURRENT_LIST_DIR}/belts.cpp)
target_link_libraries(bench_belts PRIVATE mech units base fmt::fmt CLI11::CLI11)
