using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Office.Workshop;

namespace ShopFloor.Web.Tests.Office;

/// <summary>What has few answers is chosen, from what the system knows, and what is kept stays.</summary>
public sealed class ProfileChoicesTests
{
    [Theory]
    [InlineData(nameof(WorkshopProfile.Country), "DE")]
    [InlineData(nameof(WorkshopProfile.Country), "AT")]
    [InlineData(nameof(WorkshopProfile.TimeZone), "Europe/Berlin")]
    [InlineData(nameof(WorkshopProfile.TimeZone), "UTC")]
    [InlineData(nameof(WorkshopProfile.LettersOn), "A4")]
    [InlineData(nameof(WorkshopProfile.LettersOn), "Letter")]
    public void Of_FewAnswers_OffersEachOnceAndOnlyWhatTheProfileTakes(string name, string wanted)
    {
        var choices = ProfileChoices.Of(name, "")!.Select(c => c.Value).ToList();
        Assert.Equal(1, choices.Count(c => c == wanted));
        Assert.Equal(choices.Count, choices.Distinct().Count());
        var text = ProfileForm.All.Single(t => t.Name == name);
        Assert.All(choices, c => Assert.DoesNotContain(text.With(new WorkshopProfile(), c).Check(), r => r.Field == name));
    }

    [Fact]
    public void Of_WhatTheSystemDoesNotKnow_StaysAmongTheChoices()
    {
        Assert.Equal("XX", ProfileChoices.Of(nameof(WorkshopProfile.Country), "XX")![0].Value);
        Assert.Null(ProfileChoices.Of(nameof(WorkshopProfile.City), ""));
    }
}
