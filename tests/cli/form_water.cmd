baitfall form spot
