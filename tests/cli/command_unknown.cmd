baitfall fal hard-4
