#include "flight/shared_sun_field.h"

#include <mutex>

namespace linefall {

namespace {

struct Last {
    std::mutex mutex;
    std::weak_ptr<const Ground> ground;
    std::weak_ptr<const SunField> field;

    [[nodiscard]] std::shared_ptr<const SunField> held(const std::shared_ptr<const Ground>& wanted, const Vec3& towards) const {
        auto found = field.lock();
        return found && ground.lock() == wanted && found->towards() == towards ? found : nullptr;
    }
};

Last& last() {
    static Last one;
    return one;
}

}  // namespace

std::shared_ptr<const SunField> sharedSunField(const std::shared_ptr<const Ground>& ground, const Vec3& towards) {
    const std::lock_guard lock(last().mutex);
    if (auto field = last().held(ground, towards)) return field;
    auto field = std::make_shared<SunField>(*ground, towards);
    last().ground = ground;
    last().field = field;
    return field;
}

std::shared_ptr<const SunField> heldSunField(const std::shared_ptr<const Ground>& ground, const Vec3& towards) {
    const std::lock_guard lock(last().mutex);
    return last().held(ground, towards);
}

}  // namespace linefall
