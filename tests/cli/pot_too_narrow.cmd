baitfall pot groundbait small
