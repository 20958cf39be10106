// Work on many things that have nothing to do with each other, on as many threads as the machine has.
#pragma once

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <future>
#include <thread>
#include <vector>

namespace hoopwright {

/// Calls `work(i)` once for each i below `count`, in any order, and returns when all are done.
/// @param per_thread  as many are done before another thread has started: fewer are not worth one
/// @pre work() of two numbers may run at once.
template <class Work>
void onThreads(std::size_t count, std::size_t per_thread, const Work& work) {
    static const std::size_t has = std::thread::hardware_concurrency();  // reads a file each time
    std::atomic<std::size_t> next = 0;
    const auto workOff = [&] {
        for (std::size_t i = next++; i < count; i = next++) work(i);
    };
    const std::size_t threads = std::min(has, count / per_thread);
    std::vector<std::future<void>> others;
    for (std::size_t i = 1; i < threads; ++i) others.push_back(std::async(std::launch::async, workOff));
    workOff();
    for (std::future<void>& other : others) other.get();
}

}  // namespace hoopwright
