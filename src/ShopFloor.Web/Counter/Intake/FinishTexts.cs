using ShopFloor.Domain.Recipes;

namespace ShopFloor.Web.Counter.Intake;

/// <summary>What a finish looks like, for customers; keys of the Counter's texts. Its name is the one of <see cref="FinishWords"/> everywhere.</summary>
public static class FinishTexts
{
    public static string Note(Finish finish) =>
        finish switch
        {
            Finish.ShowThrough => "The material gleams through the colours. There is no white: white parts show the material.",
            Finish.WhiteGround => "Colours as on paper, white is white. The material is hidden.",
            Finish.VelvetMatt => "Soft to the eye, without gloss. White parts show the material.",
            _ => "The picture lies behind the glass and is seen through it.",
        };
}
