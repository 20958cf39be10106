// A value, or one sentence that says why there is none.
#pragma once

#include <cassert>
#include <string>
#include <utility>
#include <variant>

namespace hoopwright {

/// Why a value could not be made: a whole sentence a fabricator can act on.
struct Reason {
    std::string text;
};

/// Holds a T or a Reason. Ask before you take: `*` and `->` on a Reason are a bug, and assert.
template <class T>
class [[nodiscard]] Expected {
public:
    Expected(T value) : held_(std::in_place_index<0>, std::move(value)) {}
    Expected(Reason reason) : held_(std::in_place_index<1>, std::move(reason)) {}

    explicit operator bool() const { return held_.index() == 0; }
    const T& operator*() const {
        assert(*this);
        return *std::get_if<0>(&held_);
    }
    T& operator*() {
        assert(*this);
        return *std::get_if<0>(&held_);
    }
    const T* operator->() const { return &**this; }
    T* operator->() { return &**this; }
    /// The sentence. @pre there is no value.
    const std::string& reason() const {
        assert(!*this);
        return std::get_if<1>(&held_)->text;
    }

private:
    std::variant<T, Reason> held_;
};

}  // namespace hoopwright
