# Truing advice beside a rule of thumb, on simulated wheels.
add_executable(bench_truing ${CMAKE_CURRENT_LIST_DIR}/truing.cpp)
target_link_libraries(bench_truing PRIVATE mech units base fmt::fmt)
